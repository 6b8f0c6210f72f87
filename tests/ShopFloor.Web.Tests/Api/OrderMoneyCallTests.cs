using System.Net;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Seasons;

namespace ShopFloor.Web.Tests.Api;

/// <summary>What a quote says is what the booking does, and an order's answer has all of its money.</summary>
public sealed class OrderMoneyCallTests(ApiShop shop) : IClassFixture<ApiShop>
{
    [Fact]
    public async Task Quote_MaterialNotInTheList_CannotBeBookedAndSaysWhere()
    {
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        var quote = await QuoteAsync(caller, Order("unobtainium"));
        Assert.False(quote.GetProperty("canBook").GetBoolean());
        var error = quote.GetProperty("lines")[0].GetProperty("errors")[0];
        Assert.Equal(("material-missing", "material"), (error.GetProperty("code").GetString(), error.GetProperty("field").GetString()));
        using var booked = await BookAsync(caller, Order("unobtainium", hash: "any"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, booked.StatusCode);
        Assert.Contains("material-missing", await booked.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Quote_MaterialThatNobodyCanName_IsStillTaken()
    {
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        var quote = await QuoteAsync(caller, Order("unknown"));
        Assert.Equal(0, quote.GetProperty("lines")[0].GetProperty("errors").GetArrayLength());
    }

    [Fact]
    public async Task Quote_NearASeason_SaysUntilWhenOrdersForItAreTaken()
    {
        await using var scope = shop.Host.Services.CreateAsyncScope();
        var today = (await scope.ServiceProvider.GetRequiredService<SeasonsView>().LoadAsync()).Today;
        var season = new SeasonChange(new Season("Christmas", today.AddDays(20), today.AddDays(50)));
        var change = scope.ServiceProvider.GetRequiredService<ChangeSeasons>();
        Assert.True((await change.RunAsync(Asked.By(await shop.OwnerAsync()), season)).IsOk);
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        var said = (await QuoteAsync(caller, Order("al"))).GetProperty("seasons")[0];
        Assert.Equal(
            ("Christmas", $"{today.AddDays(20):yyyy-MM-dd}", "in-time"),
            (said.GetProperty("name").GetString(), said.GetProperty("lastOrderDay").GetString(), said.GetProperty("word").GetString())
        );
        Assert.Contains("not promised for it", said.GetProperty("words").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-1, false)]
    [InlineData(30, true)]
    public async Task Quote_DayWanted_IsBookableOnlyWhenItIsNotOver(int days, bool canBook)
    {
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        var wanted = DateOnly.FromDateTime(shop.Host.Clock.GetUtcNow().UtcDateTime).AddDays(days);
        var quote = await QuoteAsync(caller, Order("al", wanted: wanted));
        Assert.Equal(canBook, quote.GetProperty("canBook").GetBoolean());
        Assert.True(quote.GetProperty("gross").GetDecimal() > 0m);
        Assert.Equal(
            canBook ? [] : ["date-past"],
            quote.GetProperty("errors").EnumerateArray().Select(e => e.GetProperty("code").GetString())
        );
    }

    [Fact]
    public async Task Get_OrderWithACharge_SaysItNetAndGross()
    {
        using var caller = await shop.CallerAsync(ApiScopes.StatusOut);
        await using var context = await shop.ContextAsync();
        var order = (await context.Orders.AsNoTracking().ToListAsync()).First(o => o.Charges.Count == 1);
        using var answer = await caller.GetAsync($"/api/v1/orders/{order.Number}");
        var charge = (await ReadAsync(answer)).GetProperty("charges")[0];
        var gross = order.Charges[0].Amount;
        Assert.Equal(gross, charge.GetProperty("gross").GetDecimal());
        Assert.Equal(Domain.Quantities.Money.Round(gross / 1.19m), charge.GetProperty("net").GetDecimal());
    }

    private static async Task<JsonElement> QuoteAsync(HttpClient caller, string order)
    {
        using var answer = await caller.PostAsync("/api/v1/quotes", Json(order));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return await ReadAsync(answer);
    }

    private static async Task<HttpResponseMessage> BookAsync(HttpClient caller, string order)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/v1/orders") { Content = Json(order) };
        request.Headers.Add("Idempotency-Key", Guid.NewGuid().ToString());
        return await caller.SendAsync(request);
    }

    private static StringContent Json(string text) => new(text, Encoding.UTF8, "application/json");

    private static async Task<JsonElement> ReadAsync(HttpResponseMessage answer)
    {
        using var read = JsonDocument.Parse(await answer.Content.ReadAsStringAsync());
        return read.RootElement.Clone();
    }

    private static string Order(string material, string hash = "", DateOnly? wanted = null) =>
        JsonSerializer.Serialize(
            new
            {
                customer = new { name = "Ida Sandberg", email = "ida@example.org" },
                contactAgreed = true,
                wanted,
                lines = new[]
                {
                    new
                    {
                        material,
                        finish = "white-ground",
                        quantity = 2,
                        widthMm = 100,
                        heightMm = 60,
                        thicknessMm = 1,
                        nothingHidden = true,
                        priceHash = hash,
                    },
                },
            }
        );
}
