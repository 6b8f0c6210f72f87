using System.Net;
using System.Text;
using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Api;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Tests.Security;

namespace ShopFloor.Web.Tests.Api;

/// <summary>The HTTP API through the web: keys, scopes, booking once, limits, tags, description.</summary>
public sealed class ApiTests(ApiShop shop) : IClassFixture<ApiShop>
{
    [Theory]
    [InlineData("/api/v1/orders", ApiScopes.StatusOut)]
    [InlineData("/api/v1/orders/1", ApiScopes.StatusOut)]
    [InlineData("/api/v1/orders/999999", ApiScopes.StatusOut)]
    [InlineData("/api/v1/plan", ApiScopes.PlanOut)]
    public async Task Get_WithoutKeyOrScope_IsRefusedAsAProblem(string path, string scope)
    {
        using var nobody = shop.Host.Client();
        await IsProblemAsync(await nobody.GetAsync(path), 401, "no-key");
        using var owner = await shop.Host.ClientAsync(ShopFloor.Data.WorkerRole.Owner);
        await IsProblemAsync(await owner.GetAsync(path), 401, "no-key");
        using var wrong = await shop.CallerAsync([.. ApiScopes.OfPrograms.Where(s => s != scope)]);
        await IsProblemAsync(await wrong.GetAsync(path), 403, "no-scope");
        using var right = await shop.CallerAsync(scope);
        using var answer = await right.GetAsync(path);
        Assert.True(answer.StatusCode is HttpStatusCode.OK or HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task Get_KeyTakenAway_IsRefusedAtOnce()
    {
        var key = await shop.KeyAsync(ApiScopes.StatusOut);
        using var caller = shop.Caller(key.Secret!);
        Assert.Equal(HttpStatusCode.OK, (await caller.GetAsync("/api/v1/orders")).StatusCode);
        await shop.RevokeAsync(key.Id);
        await IsProblemAsync(await caller.GetAsync("/api/v1/orders"), 401, "no-key");
    }

    [Fact]
    public async Task MakeKey_Secret_Has256BitsAndIsKeptAsAHashOnly()
    {
        var key = await shop.KeyAsync(ApiScopes.PlanOut);
        Assert.Equal(KeySecret.Prefix.Length + 43, key.Secret!.Length);
        await using var context = await shop.ContextAsync();
        var kept = JsonSerializer.Serialize(await context.AccessKeys.ToListAsync());
        kept += string.Concat(await context.Commands.Select(c => c.ResultJson).ToListAsync());
        Assert.DoesNotContain(key.Secret[4..], kept, StringComparison.Ordinal);
        Assert.Contains(KeySecret.Hash(key.Secret), kept, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Book_QuotedThenSentTwice_BooksOnceAtTheQuotedPrice()
    {
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn, ApiScopes.StatusOut);
        var quote = await JsonAsync(await caller.PostAsync("/api/v1/quotes", Json(Order(""))));
        var line = quote.GetProperty("lines")[0];
        var order = Order(line.GetProperty("priceHash").GetString()!, "web-1", "customer-1");
        using var first = await SendAsync(caller, order, "one");
        var booked = await JsonAsync(first, HttpStatusCode.Created);
        Assert.Equal($"/api/v1/orders/{booked.GetProperty("order").GetInt32()}", first.Headers.Location?.ToString());
        var again = await JsonAsync(await SendAsync(caller, order, "one"), HttpStatusCode.Created);
        Assert.Equal(booked.GetProperty("order").GetInt32(), again.GetProperty("order").GetInt32());
        await IsProblemAsync(await SendAsync(caller, order, "two"), 409, "external-id-taken");
        await IsProblemAsync(
            await SendAsync(caller, Order(line.GetProperty("priceHash").GetString()!, "web-2"), "one"),
            409,
            "command-reused"
        );
        var read = await JsonAsync(await caller.GetAsync(first.Headers.Location));
        Assert.Equal(quote.GetProperty("gross").GetDecimal(), read.GetProperty("gross").GetDecimal());
        Assert.Equal(0, read.GetProperty("discounts").GetArrayLength());
        Assert.Equal("web-1", read.GetProperty("externalId").GetString());
        Assert.Equal(2, read.GetProperty("lines")[0].GetProperty("pieces").GetArrayLength());
        Assert.DoesNotContain("Ida", read.ToString(), StringComparison.Ordinal);
    }

    /// <summary>The demo's order with a discount: lines less discounts are the order.</summary>
    [Fact]
    public async Task Get_OrderWithDiscount_AddsUp()
    {
        using var caller = await shop.CallerAsync(ApiScopes.StatusOut);
        await using var context = await shop.ContextAsync();
        var order = (await context.Orders.AsNoTracking().ToListAsync()).First(o => o.Discounts.Count > 0);
        var read = await JsonAsync(await caller.GetAsync($"/api/v1/orders/{order.Number}"));
        decimal Sum(string list) => read.GetProperty(list).EnumerateArray().Sum(l => l.GetProperty("gross").GetDecimal());
        Assert.True(Sum("discounts") > 0m);
        Assert.Equal(Sum("lines") - Sum("discounts"), read.GetProperty("gross").GetDecimal());
    }

    /// <summary>A face larger than every shelf and platen: no date, so no price, and the reason at its line.</summary>
    [Fact]
    public async Task Quote_NobodyCanMakeIt_SaysSoWithTheReason()
    {
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        // More than the coating on the shelf is enough for.
        var many = Order("").Replace("\"quantity\":2", "\"quantity\":900", StringComparison.Ordinal);
        var quote = await JsonAsync(await caller.PostAsync("/api/v1/quotes", Json(many)));
        var line = quote.GetProperty("lines")[0];
        Assert.False(quote.GetProperty("canBook").GetBoolean());
        Assert.False(quote.TryGetProperty("gross", out _) || line.TryGetProperty("price", out _));
        Assert.Equal("Refuse", line.GetProperty("verdict").GetString());
        Assert.Equal("no-date", line.GetProperty("errors")[0].GetProperty("code").GetString());
        var why = line.GetProperty("errors")[0].GetProperty("detail").GetString()!;
        await using var scope = shop.Host.Services.CreateAsyncScope();
        var input = JsonSerializer.Deserialize<OrderIn>(many, ApiBody.Form)!.ToInput().Value;
        var priced = await scope.ServiceProvider.GetRequiredService<QuoteOrder>().RunAsync(input);
        var order = many.Replace("\"priceHash\":\"\"", $"\"priceHash\":\"{priced.Lines[0].Price!.Hash}\"", StringComparison.Ordinal);
        var refused = await SendAsync(caller, order, "too many");
        Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
        var errors = (await JsonAsync(refused, HttpStatusCode.Conflict)).GetProperty("errors");
        Assert.Equal(("lines.0", why), (errors[1].GetProperty("field").GetString(), errors[1].GetProperty("detail").GetString()));
    }

    [Fact]
    public async Task Book_KnownCustomer_IsFoundByItsExternalId()
    {
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        var quote = await JsonAsync(await caller.PostAsync("/api/v1/quotes", Json(Order(""))));
        var hash = quote.GetProperty("lines")[0].GetProperty("priceHash").GetString()!;
        await JsonAsync(await SendAsync(caller, Order(hash, "web-3", "customer-3"), "three"), HttpStatusCode.Created);
        var known = Order(hash, "web-4", "customer-3", contact: false);
        await JsonAsync(await SendAsync(caller, known, "four"), HttpStatusCode.Created);
        await using var context = await shop.ContextAsync();
        Assert.Single(await context.Customers.Where(c => c.ExternalId == "customer-3").ToListAsync());
    }

    /// <summary>The order is reached as was sent with it; what is kept of the customer stays.</summary>
    [Fact]
    public async Task Book_KnownCustomerWithOtherContact_TheOrderHasWhatWasSent()
    {
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        var quote = await JsonAsync(await caller.PostAsync("/api/v1/quotes", Json(Order(""))));
        var hash = quote.GetProperty("lines")[0].GetProperty("priceHash").GetString()!;
        await JsonAsync(await SendAsync(caller, Order(hash, "web-10", "customer-10"), "ten"), HttpStatusCode.Created);
        var sent = Order(hash, "web-11", "customer-10", contact: false)
            .Replace("\"customer-10\"", "\"customer-10\",\"email\":\"new@example.org\"", StringComparison.Ordinal);
        await JsonAsync(await SendAsync(caller, sent, "eleven"), HttpStatusCode.Created);
        var wrong = Order(hash, "web-12", "customer-10", contact: false)
            .Replace("\"customer-10\"", "\"customer-10\",\"email\":\"nowhere\"", StringComparison.Ordinal);
        await IsProblemAsync(await SendAsync(caller, wrong, "twelve"), 422, "email-wrong");
        await using var context = await shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.ExternalId == "web-11");
        Assert.Equal(new Contact("Ida Sandberg", "new@example.org", ""), order.Contact);
        Assert.Equal("ida@example.org", (await context.Customers.SingleAsync(c => c.ExternalId == "customer-10")).Contact.Email);
    }

    [Fact]
    public async Task Book_WrongInManyWays_SaysWhatAndWhere()
    {
        using var caller = await shop.CallerAsync(ApiScopes.OrdersIn);
        await IsProblemAsync(await SendAsync(caller, Order("stale"), "p1"), 409, "price-moved");
        using var noKey = await caller.PostAsync("/api/v1/orders", Json(Order("")));
        await IsProblemAsync(noKey, 400, "idempotency-key");
        await IsProblemAsync(await SendAsync(caller, """{"lines":[{"finish":"white-ground"}],"price":1}""", "p2"), 400, "body-unread");
        await IsProblemAsync(await SendAsync(caller, """{"lines":[{"finish":"sparkling"}]}""", "p3"), 400, "body-unread");
        await IsProblemAsync(await SendAsync(caller, "{", "p4"), 400, "body-unread");
        await IsProblemAsync(await SendAsync(caller, new string(' ', ApiBody.MostBytes + 1), "p5"), 413, "body-large");
        var wrong = await SendAsync(caller, """{"lines":[{"finish":"white-ground","widthMm":-5}]}""", "p6");
        Assert.Contains("lines.0.widthMm", await wrong.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        var empty = await SendAsync(caller, """{"lines":[]}""", "p7");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, empty.StatusCode);
        await NamesFieldAsync("""{"lines":[{"finish":"white-ground","widthMm":"100"}]}""", "lines.0.widthMm", "without quotes");
        await NamesFieldAsync(
            """{"lines":[{"finish":"white-ground"},{"finish":"velvet-matt","quantity":"2"}]}""",
            "lines.1.quantity",
            "quotes"
        );
        await NamesFieldAsync("""{"lines":[{"finish":"white-ground","quantity":2.5}]}""", "lines.0.quantity", "lines.0.quantity");
        await NamesFieldAsync("""{"lines":[{"finish":"white-ground","quantity":"two"}]}""", "lines.0.quantity", "lines.0.quantity");
        await NamesFieldAsync("""{"lines":[{"finish":"shiny"}]}""", "lines.0.finish", "velvet-matt");
        const string White = "{\"finish\":\"white-ground\"";
        foreach (var field in new[] { "customer", "lines", "externalId", "language", "note", "rush" })
            await NamesFieldAsync(field == "lines" ? """{"lines":null}""" : $"{{\"lines\":[{White}}}],\"{field}\":null}}", field, "null");
        foreach (var field in new[] { "material", "texts", "note", "widthMm" })
            await NamesFieldAsync($"{{\"lines\":[{White}}},{White},\"{field}\":null}}]}}", $"lines.1.{field}", "null");
        await NamesFieldAsync($"{{\"lines\":[{White}}},null]}}", "lines.1", "null");
        await NamesFieldAsync($"{{\"lines\":[{White},\"texts\":[\"Anna\",null]}}]}}", "lines.0.texts.1", "null");
        await IsProblemAsync(await SendAsync(caller, """{"lines":[]}""", "p9"), 422, "lines");
        await IsProblemAsync(await SendAsync(caller, """{"lines":[{"finish":"white-ground"}]}""", "p10"), 422, "price-unseen");
        using var form = new FormUrlEncodedContent([]);
        await IsProblemAsync(await caller.PostAsync("/api/v1/quotes", form), 415, "body-type");

        async Task NamesFieldAsync(string body, string field, string words)
        {
            var error = (await JsonAsync(await SendAsync(caller, body, "p8"), HttpStatusCode.BadRequest)).GetProperty("errors")[0];
            Assert.Equal(field, error.GetProperty("field").GetString());
            Assert.Contains(words, error.GetProperty("detail").GetString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Orders_PageByPage_GiveEveryOrderOnce()
    {
        using var caller = await shop.CallerAsync(ApiScopes.StatusOut);
        List<int> seen = [];
        int? after = 0;
        while (after is { } from)
        {
            var page = await JsonAsync(await caller.GetAsync($"/api/v1/orders?limit=3&after={from}"));
            seen.AddRange(page.GetProperty("orders").EnumerateArray().Select(o => o.GetProperty("order").GetInt32()));
            after = page.TryGetProperty("next", out var next) ? next.GetInt32() : null;
        }
        await using var context = await shop.ContextAsync();
        Assert.True(seen.Count > 3);
        Assert.Equal(await context.Orders.OrderBy(o => o.Number).Select(o => o.Number).ToListAsync(), seen);
        await IsProblemAsync(await caller.GetAsync("/api/v1/orders?limit=1000"), 400, "limit");
        await IsProblemAsync(await caller.GetAsync("/api/v1/orders?limit=abc"), 400, "limit");
        await IsProblemAsync(await caller.GetAsync("/api/v1/orders?after=x"), 400, "after");
        await IsProblemAsync(await caller.GetAsync("/api/v1/orders?changedSince=foo"), 400, "changedSince");
    }

    [Fact]
    public async Task Order_AskedAgainWithItsTag_IsNotSentTwice()
    {
        using var caller = await shop.CallerAsync(ApiScopes.StatusOut);
        using var first = await caller.GetAsync("/api/v1/orders/1");
        using var request = new HttpRequestMessage(HttpMethod.Get, "/api/v1/orders/1");
        request.Headers.IfNoneMatch.Add(first.Headers.ETag!);
        using var again = await caller.SendAsync(request);
        Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
        Assert.Empty(await again.Content.ReadAsByteArrayAsync());
    }

    [Fact]
    public async Task Limit_TooManyCalls_AreAnsweredWithAWait()
    {
        await using var small = await ShopHost.StartAsync(settings: ("ShopFloor:ApiCallsPerMinute", "3"));
        using var caller = small.Client();
        for (var n = 0; n < 3; n++)
            Assert.Equal(HttpStatusCode.Unauthorized, (await caller.GetAsync("/api/v1/orders")).StatusCode);
        using var refused = await caller.GetAsync("/api/v1/orders");
        Assert.Equal("60", refused.Headers.RetryAfter?.ToString());
        await IsProblemAsync(refused, 429, "too-many-calls");
    }

    /// <summary>The eleventh wrong key of a minute waits; a good key from the same address does not.</summary>
    [Fact]
    public async Task Limit_WrongKeys_WaitWhileAGoodOneIsAnswered()
    {
        await using var small = await ShopHost.StartAsync();
        using var caller = small.Client();
        async Task<HttpResponseMessage> TryAsync(string key)
        {
            using var call = new HttpRequestMessage(HttpMethod.Get, "/api/v1/orders");
            call.Headers.Authorization = new("Bearer", key);
            return await caller.SendAsync(call);
        }
        for (var n = 0; n < KeySignIn.MostWrong; n++)
            await IsProblemAsync(await TryAsync($"wrong-{n}"), 401, "no-key");
        using var refused = await TryAsync("wrong-again");
        Assert.InRange(int.Parse(refused.Headers.RetryAfter!.ToString(), CultureInfo.InvariantCulture), 1, 60);
        await IsProblemAsync(refused, 429, "too-many-wrong-keys");
        await using (var scope = small.Services.CreateAsyncScope())
        {
            var context = scope.ServiceProvider.GetRequiredService<ShopFloor.Data.ShopContext>();
            context.AccessKeys.Add(
                new(Guid.NewGuid(), "till", KeySecret.Hash("good"), [ApiScopes.StatusOut], Guid.NewGuid(), DateTimeOffset.UnixEpoch)
            );
            await context.SaveChangesAsync();
        }
        Assert.Equal(HttpStatusCode.OK, (await TryAsync("good")).StatusCode);
    }

    [Fact]
    public async Task Description_OfTheApi_NamesEveryCallAndTheKey()
    {
        using var anyone = shop.Host.Client();
        var described = await JsonAsync(await anyone.GetAsync("/api/v1/openapi.json"));
        Assert.StartsWith("3.1", described.GetProperty("openapi").GetString(), StringComparison.Ordinal);
        var calls = described
            .GetProperty("paths")
            .EnumerateObject()
            .SelectMany(p => p.Value.EnumerateObject().Select(m => $"{m.Name} {p.Name}"))
            .Order(StringComparer.Ordinal);
        Assert.Equal(
            [
                "get /api/v1/orders",
                "get /api/v1/orders/{number}",
                "get /api/v1/plan",
                "post /api/v1/orders",
                "post /api/v1/quotes",
                "put /api/v1/orders/{number}/lines/{line}/picture",
            ],
            calls
        );
        Assert.Equal(
            "bearer",
            described.GetProperty("components").GetProperty("securitySchemes").GetProperty("key").GetProperty("scheme").GetString()
        );
        var order = described.GetProperty("components").GetProperty("schemas").GetProperty("OrderIn").GetProperty("properties");
        Assert.True(order.TryGetProperty("externalId", out _) && order.TryGetProperty("lines", out _));
        var line = described.GetProperty("components").GetProperty("schemas").GetProperty("LineIn").GetProperty("properties");
        Assert.Equal("integer", line.GetProperty("quantity").GetProperty("type").GetString());
        Assert.Equal("number", line.GetProperty("widthMm").GetProperty("type").GetString());
        // Whatever may be a number may not be a string too.
        Assert.DoesNotMatch("""(integer|number)",\s*"string"|"string",\s*"(integer|number)""", described.GetRawText());
    }

    private static string Order(string hash, string externalId = "", string customer = "", bool contact = true) =>
        JsonSerializer.Serialize(
            new
            {
                customer = contact
                    ? new
                    {
                        externalId = customer,
                        name = "Ida Sandberg",
                        email = "ida@example.org",
                    }
                    : (object)new { externalId = customer },
                externalId,
                contactAgreed = true,
                lines = new[]
                {
                    new
                    {
                        material = "al",
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

    private static StringContent Json(string body) => new(body, Encoding.UTF8, "application/json");

    private static async Task<HttpResponseMessage> SendAsync(HttpClient caller, string body, string key)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/v1/orders");
        request.Content = Json(body);
        request.Headers.Add("Idempotency-Key", key);
        return await caller.SendAsync(request);
    }

    private static async Task<JsonElement> JsonAsync(HttpResponseMessage answer, HttpStatusCode status = HttpStatusCode.OK)
    {
        var text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == status, $"{answer.StatusCode}: {text}");
        return JsonDocument.Parse(text).RootElement;
    }

    private static async Task IsProblemAsync(HttpResponseMessage answer, int status, string code)
    {
        var text = await answer.Content.ReadAsStringAsync();
        Assert.True((int)answer.StatusCode == status, $"{answer.StatusCode}: {text}");
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        var problem = JsonDocument.Parse(text).RootElement;
        Assert.Equal(code, problem.GetProperty("title").GetString());
        Assert.NotEmpty(problem.GetProperty("errors").EnumerateArray());
    }
}
