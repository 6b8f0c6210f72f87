using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Costs;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Office.Invoices;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>What work really cost, what it would cost with other numbers, and what measuring changes.</summary>
public sealed class CostTests
{
    [Fact]
    public async Task Costs_TimedWork_AreTheJournalsMinutesAtTheRateOfTheBooking()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 4);
        await TimedAsync(bench, 100);
        var line = Assert.Single(await bench.Shop.Get<OrderCostsView>().LoadAsync(1));
        var settings = await bench.Shop.Get<SettingsView>().LoadAsync();

        // Every attended step but the sprays was timed with 100 s for all four pieces; machines and sprays add theirs.
        var pieces = await bench.PiecesAsync();
        var items = pieces[0].Items;
        var byHand = items.Count(i => !i.Kind.IsRest() && !i.Kind.HasWindow() && i.Kind is not (StepKind.Spray or StepKind.Inspect)) * 100m;
        var sprays = items.Where(i => i.Kind == StepKind.Spray).Sum(i => (decimal)(i.FinishedAt - i.StartedAt)!.Value.TotalSeconds);
        var press = items.Where(i => i.Kind == StepKind.Press).Sum(i => 4 * 30 + (decimal)(i.FinishedAt - i.StartedAt)!.Value.TotalSeconds);
        var ovens = items.Count(i => i.Kind.InOven()) * 4 * 40m;
        var inspect = items.Where(i => i.Kind == StepKind.Inspect).Sum(i => 4m * i.Settings.LengthSeconds);
        var seconds = byHand + sprays + press + ovens + inspect + settings.Inputs.SecondsPerLine;
        var labour = line.Parts.Single(p => p.Code == "labour").Actual.Amount;
        Assert.Equal(Math.Round(seconds * settings.Rates.LabourPerHour.Amount / 3600, 2), labour);
        // Each part is rounded by itself for showing.
        Assert.InRange(line.Parts.Sum(p => p.Actual.Amount) - line.Actual.Amount, -0.05m, 0.05m);
        Assert.Contains(line.Parts, p => p.Code == "blank" && p.Actual.Amount == 4 * 0.85m);
        Assert.NotNull(line.Most);
    }

    [Fact]
    public async Task Costs_RatesChangedAfterBooking_ActualKeepsTheRatesOfTheBooking()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2);
        await bench.WorkToAsync(StepKind.Cure);
        var before = (await bench.Shop.Get<OrderCostsView>().LoadAsync(1))[0].Actual;
        bench.Wait(60);
        await ChangeAsync(bench.Shop, form => form.Rates["LabourPerHour"] = "90");
        Assert.Equal(before, (await bench.Shop.Get<OrderCostsView>().LoadAsync(1))[0].Actual);
    }

    [Fact]
    public async Task Costs_OfAnOrder_SayWhatIsAgreedAndWhatOfItIsInvoiced()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var id = await shop.OrderAsync();
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Id == id);
        var view = shop.Shop.Get<OrderCostsView>();
        var before = await view.LoadAsync(order.Number);
        Assert.NotEmpty(before);
        Assert.All(before, r => Assert.Equal(0m, r.Invoiced));

        var invoice = await shop.InvoiceAsync(id);
        var after = await view.LoadAsync(order.Number);
        // An amount with tax is cut into net and tax once for the order and once for the paper.
        Assert.All(after, r => Assert.InRange(r.Invoiced - r.Net, -0.02m, 0.02m));
        await using var page = TestPage.Of(shop.Shop);
        page.Services.AddSingleton(view);
        var sheet = page.Render<CostSheet>(p => p.Add(c => c.Number, order.Number));
        Assert.Contains($"Left of the agreed {after[0].Net:N2} before tax", sheet.Markup, StringComparison.Ordinal);
        Assert.Contains($"Invoiced of it before tax: {after[0].Invoiced:N2}.", sheet.Markup, StringComparison.Ordinal);

        var credited = await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(invoice.Id, null, "Wrong address"));
        Assert.True(credited.IsOk);
        Assert.All(await view.LoadAsync(order.Number), r => Assert.Equal(0m, r.Invoiced));
    }

    [Fact]
    public async Task WhatIf_SameNumbers_RepricesToWhatWasAgreedAndMoreLabourToMore()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 6);
        await bench.BookAsync(1, true, Finish.ShowThrough, "al");
        var now = await bench.Shop.Get<SettingsView>().LoadAsync();
        var month = now.Day(bench.Shop.Clock.GetUtcNow());
        var form = new PricesForm(now);
        var same = (await bench.Shop.Get<WhatIfView>().LoadAsync(month, form.Read().Value)).Value;
        Assert.Equal(2, same.Orders.Count);
        Assert.All(same.Orders, o => Assert.Equal((o.Agreed, o.Agreed), (o.Now, o.IfSo)));

        form.Rates["LabourPerHour"] = (now.Rates.LabourPerHour.Amount * 2).ToString(CultureInfo.CurrentCulture);
        var dearer = (await bench.Shop.Get<WhatIfView>().LoadAsync(month, form.Read().Value)).Value;
        Assert.All(dearer.Orders, o => Assert.True(o.IfSo > o.Now && o.Now == o.Agreed));
        Assert.Equal(now.Rates, (await bench.Shop.Get<SettingsView>().LoadAsync()).Rates with { Machines = now.Rates.Machines });
        Assert.Empty((await bench.Shop.Get<WhatIfView>().LoadAsync(month.AddMonths(-1), form.Read().Value)).Value.Orders);
    }

    [Fact]
    public async Task WhatIf_RateOfNothing_IsRefusedAtItsField()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        var form = new PricesForm(await bench.Shop.Get<SettingsView>().LoadAsync());
        form.Rates["LabourPerHour"] = "0";
        var tried = await bench.Shop.Get<WhatIfView>().LoadAsync(new DateOnly(2026, 3, 1), form.Read().Value);
        Assert.Equal("LabourPerHour", Assert.Single(tried.Refusals).Field);
    }

    [Fact]
    public async Task Measure_EnoughTimedPieces_FeedPriceAndStepsUntilSwitchedOff()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 6);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        await TimedAsync(bench, 6 * 600);
        var (before, recipe) = await QuoteAsync(bench);
        Assert.True((await bench.Shop.Get<MeasureShop>().RunAsync(Asked.By(owner), new MeasureInput())).IsOk);
        bench.Wait(1);
        var (after, wiped) = await QuoteAsync(bench);
        Assert.NotEqual(600, recipe);
        Assert.Equal(600, wiped);
        Assert.True(after > before);
        var row = (await bench.Shop.Get<MeasuredView>().LoadAsync()).Steps.Single(s => s.Kind == StepKind.Wipe);
        Assert.Equal((6, recipe), (row.Used, row.RecipeSeconds));

        await ChangeAsync(bench.Shop, form => form.UseMeasured = false);
        bench.Wait(1);
        Assert.Equal((before, recipe), await QuoteAsync(bench));
    }

    private static async Task<(decimal Price, int WipeSeconds)> QuoteAsync(BenchShop bench)
    {
        await using var context = await bench.Shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, bench.Shop.Clock.GetUtcNow(), default);
        var line = ShopOrders.Plates(6).Lines[0];
        var judged = JudgeLine.Of(line, facts, false, null);
        return (judged.Quote.Price!.LineTotal.Amount, judged.Steps.First(s => s.Kind == StepKind.Wipe).LengthSeconds);
    }

    private static async Task ChangeAsync(TestShop shop, Action<PricesForm> change)
    {
        var form = new PricesForm(await shop.Get<SettingsView>().LoadAsync());
        change(form);
        var done = await shop.Get<ChangePrices>().RunAsync(Asked.By(await shop.WorkerAsync(WorkerRole.Owner)), form.Read().Value);
        Assert.True(done.IsOk);
    }

    // Works the whole line, with handwork begun and ended by taps that many seconds apart.
    private static async Task TimedAsync(BenchShop bench, int seconds)
    {
        BenchShop.Must(await bench.ReceiveAsync());
        while ((await bench.PiecesAsync())[0] is { NextAttended: { } next } piece)
        {
            if (piece.Items.FirstOrDefault(i => i.Number == next.Number - 1) is { StartedAt: { } rests } rest && rest.Kind.IsRest())
                bench.Wait(Math.Max(0, (rests.AddSeconds(rest.Settings.MinSeconds) - bench.Shop.Clock.GetUtcNow()).TotalSeconds));
            if (!FinishStepIsHandwork(next.Kind))
            {
                await bench.DoAsync(next);
                continue;
            }
            BenchShop.Must(await bench.StartAsync(next.Number));
            bench.Wait(seconds);
            BenchShop.Must(await bench.FinishAsync(next.Number));
        }
    }

    private static bool FinishStepIsHandwork(StepKind kind) =>
        Domain.Pieces.BatchRule.KindFor(kind) is null && kind is not (StepKind.Rest or StepKind.Inspect);
}
