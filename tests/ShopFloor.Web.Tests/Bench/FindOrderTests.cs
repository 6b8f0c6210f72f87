using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Pages;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Counter;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>The Bench finds an order by its number or a name, and learns nothing that is not for it.</summary>
public sealed class FindOrderTests
{
    [Fact]
    public async Task Read_NumberOrPartOfTheName_HasThePiecesWithStepAndState()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 3);
        BenchShop.Must(await bench.ReceiveAsync());
        var view = bench.Shop.Get<FindOrder>();
        foreach (var typed in (string[])["1", " somebo"])
        {
            var order = Assert.Single((await view.ReadAsync(typed)).Orders);
            Assert.Equal((1, "Somebody", "not planned"), (order.Number, order.Name, order.NotPlanned));
            var line = Assert.Single(order.Pieces);
            Assert.Equal((bench.Code, "Clean", 3), (line.Code, line.Word, line.Count));
            Assert.Contains("received", line.What, StringComparison.Ordinal);
        }
        Assert.Empty((await view.ReadAsync("so")).Orders);
        Assert.False(await view.AnyAsync("2"));
    }

    [Fact]
    public async Task Page_ShowsNoPriceAndNoWayToReachTheCustomer()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        await using var page = TestPage.Of(bench.Shop);
        page.Services.AddSingleton(new Notifier(NullLogger<Notifier>.Instance));
        page.ComponentFactories.AddStub<ScanBar>();
        page.Services.GetRequiredService<Microsoft.AspNetCore.Components.NavigationManager>().NavigateTo("bench/orders?q=Somebody");
        var found = page.Render<FindOrderPage>();

        Assert.Contains("not all here", found.Markup, StringComparison.Ordinal);
        Assert.Equal($"b/{bench.Code}", found.Find("a.work-line").GetAttribute("href"));
        foreach (var hidden in (string[])["shop.example", "EUR", "price"])
            Assert.DoesNotContain(hidden, found.Markup, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task ScanField_OrderNumberOrName_LeadsToTheOrder()
    {
        await using var counter = await CounterHost.OpenAsync();
        var booked = await counter.BookAsync(await counter.BeginAsync());
        using var bench = await counter.Host.ClientAsync(WorkerRole.Bench);
        Assert.Contains(
            $"bench/orders?q={booked.Number}",
            await bench.GetStringAsync($"/bench/find?code={booked.Number}"),
            StringComparison.Ordinal
        );
        Assert.Contains("bench/orders?q=fenw", await bench.GetStringAsync("/bench/find?code=fenw"), StringComparison.Ordinal);
        Assert.DoesNotContain("bench/orders", await bench.GetStringAsync("/bench/find?code=zzzz"), StringComparison.Ordinal);
        Assert.Contains(booked.Codes[0], await bench.GetStringAsync($"/bench/find?code={booked.Codes[0]}"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Piece_OfMany_SaysItsNumberAndItsText()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 3, own: true, texts: ["Ana", "Berta", "Cleo"]);
        await using var page = TestPage.Of(bench.Shop);
        var second = (await bench.PiecesAsync())[1];
        var sheet = (await bench.Shop.Get<FindByCode>().ReadAsync(second.Code)).Value.Pieces[0];
        var card = page.Render<PieceCard>(p => p.Add(c => c.Sheet, sheet).Add(c => c.PromisedText, "today"));
        Assert.Contains("Piece 2 of 3 · its text: Berta", card.Find(".piece-head").TextContent, StringComparison.Ordinal);
    }
}
