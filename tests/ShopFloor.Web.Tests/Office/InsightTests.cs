using System.IO.Compression;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Costs;
using ShopFloor.Web.Office.Insight;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Office.Invoices;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The figures of a month are what was done in it.</summary>
public sealed class InsightTests
{
    [Fact]
    public async Task Load_WorkedAndHandedOver_FiguresAreThoseOfTheWork()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 4);
        await bench.WorkToAsync(StepKind.Mask);
        BenchShop.Must(await bench.Shop.Get<HandOver>().RunAsync(bench.Ask(), new Target(bench.Code)));
        var figures = (await bench.Shop.Get<InsightView>().LoadAsync(null)).This;
        await using var context = await bench.Shop.ContextAsync();
        var order = await context.Orders.SingleAsync();
        var cost = (await bench.Shop.Get<OrderCostsView>().LoadAsync(order.Number))[0].Actual.Amount;

        foreach (var by in Enum.GetValues<InsightBy>())
        {
            var row = Assert.Single(figures.Money[by]);
            Assert.Equal((4, order.Net), (row.Pieces, Math.Round(row.Revenue, 2)));
            Assert.Equal(cost, Math.Round(row.Cost, 2));
        }
        Assert.Equal((1, 1), (figures.Completed, figures.Kept));
        var yield = Assert.Single(figures.Yields);
        Assert.Equal((4, 0, 0), (yield.Good, yield.Reworked, yield.Spoiled));
        Assert.Equal(100, figures.FirstPassPercent);
        Assert.Equal(4, figures.Weeks.Sum(w => w.Count));
        var loads = await context.Batches.Where(b => b.Kind == BatchKind.OvenLoad).ToListAsync();
        var oven = figures.Machines.Single(m => m.Name == "Convection oven");
        Assert.Equal((decimal)loads.Sum(l => (l.FinishedAt - l.StartedAt)!.Value.TotalHours), oven.Hours, 6);
    }

    /// <summary>One of four is lost for what is seen at the inspection: three quarters come through it the first time, and so through all steps.</summary>
    [Fact]
    public async Task Load_OneLost_IsToldByMaterialAndStepWithTheRolledYield()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 4);
        await bench.WorkToAsync(StepKind.Inspect);
        var pieces = await bench.PiecesAsync();
        var lost = new FaultReport(new Target(pieces[0].Code), "run", "", new TimeDecision(TimeChoice.Spoil, "bent"));
        BenchShop.Must(await bench.Shop.Get<ReportFault>().RunAsync(bench.Ask(), lost));
        await bench.DoAsync(pieces[1].NextAttended!);

        var sheet = await bench.Shop.Get<InsightView>().LoadAsync(null);
        var row = Assert.Single(sheet.This.MaterialYields);
        Assert.Equal(("Aluminium, bare", 3, 1), (row.Material, row.Good, row.Spoiled));
        Assert.Null(Assert.Single(sheet.This.Yields).Material);
        var group = Assert.Single(sheet.This.StepLosses);
        var step = Assert.Single(group.Steps);
        Assert.Equal(("Inspect", 4, 1, 0, 75m), (step.Step, step.Pieces, step.Lost, step.Reworked, step.FirstPassPercent));
        Assert.Equal(75, group.RolledPercent, 6);
        var tables = InsightTables.Of(sheet);
        Assert.Equal(
            ["White ground", "Aluminium, bare", "Inspect", 4, 1, 0, 75m],
            tables.Single(t => t.Name == "lost_by_step").Rows.Single()
        );
        Assert.Equal(75m, tables.Single(t => t.Name == "rolled_yield").Rows.Single()[3]);
    }

    [Fact]
    public async Task Load_OpenTestPiece_DoesNotKeepItsOrderFromBeingComplete()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2);
        await bench.WorkToAsync(StepKind.Mask);
        BenchShop.Must(await bench.Shop.Get<HandOver>().RunAsync(bench.Ask(), new Target(bench.Code)));
        await using var context = await bench.Shop.ContextAsync();
        var test = (await bench.PiecesAsync())[0].Id;
        await context
            .Pieces.Where(p => p.Id == test)
            .ExecuteUpdateAsync(p => p.SetProperty(x => x.IsTest, true).SetProperty(x => x.State, PieceState.InWork));

        Assert.Equal(1, (await bench.Shop.Get<InsightView>().LoadAsync(null)).This.Completed);
    }

    /// <summary>Half of it taken back lowers the revenue of the month; taken back whole and invoiced again it is sold again.</summary>
    [Fact]
    public async Task Load_CreditNotes_LowerTheRevenueUntilInvoicedAgain()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var id = await shop.OrderAsync();
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Id == id);
        await context
            .Pieces.Where(p => p.Order == id)
            .ExecuteUpdateAsync(p =>
                p.SetProperty(x => x.State, PieceState.HandedOver).SetProperty(x => x.ChangedAt, shop.Shop.Clock.GetUtcNow())
            );
        async Task<(decimal Revenue, decimal Credited)> FiguresAsync()
        {
            var figures = (await shop.Shop.Get<InsightView>().LoadAsync(null)).This;
            return (Math.Round(figures.Revenue, 2), Math.Round(figures.Credited, 2));
        }
        async Task CreditAsync(Guid invoice, Dictionary<string, decimal>? quantities) =>
            Assert.True(
                (await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(invoice, quantities, "Chipped"))).IsOk
            );
        var (before, none) = await FiguresAsync();
        Assert.Equal(0m, none);
        var first = await shop.InvoiceAsync(id);
        await CreditAsync(first.Id, order.Lines.ToDictionary(OrderAccount.LineId, l => l.Quantity / 2m));
        var note = await context.Documents.AsNoTracking().SingleAsync(d => d.Kind == "credit note");
        var half = OrderAccount.Read(note.Json).Totals.WithoutTax;
        Assert.Equal((before - half, half), await FiguresAsync());
        await CreditAsync(first.Id, null);
        Assert.Equal((before - order.Net, order.Net), await FiguresAsync());
        await shop.InvoiceAsync(id);
        Assert.Equal((before, 0m), await FiguresAsync());
    }

    /// <summary>A price with tax stays when the rate changes, so what of it is revenue is what was invoiced.</summary>
    [Fact]
    public async Task Load_InvoicedAtAnotherRate_CountsTheNetThatWasInvoiced()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var id = await shop.OrderAsync();
        await using var context = await shop.Shop.ContextAsync();
        await context
            .Pieces.Where(p => p.Order == id)
            .ExecuteUpdateAsync(p =>
                p.SetProperty(x => x.State, PieceState.HandedOver).SetProperty(x => x.ChangedAt, shop.Shop.Clock.GetUtcNow())
            );
        var before = (await shop.Shop.Get<InsightView>().LoadAsync(null)).This.Revenue;
        var rate = new TaxRate("normal", "normal", TaxKind.Standard(25m), null, DateOnly.MinValue, null);
        var settings = new InvoiceSettings { Rates = [rate] };
        Assert.True((await shop.Shop.Get<ChangeInvoiceSettings>().RunAsync(shop.Asked(), settings)).IsOk);
        var issued = await shop.InvoiceAsync(id);
        var paper = await context.Documents.AsNoTracking().SingleAsync(d => d.Id == issued.Id);
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Id == id);
        var net = OrderAccount.Read(paper.Json).Totals.WithoutTax;
        Assert.True(net < order.Net);

        var after = (await shop.Shop.Get<InsightView>().LoadAsync(null)).This.Revenue;

        Assert.Equal(Math.Round(before - order.Net + net, 2), Math.Round(after, 2));
    }

    [Fact]
    public async Task Load_FaultTakenBack_DoesNotCount()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 2);
        await bench.WorkToAsync(StepKind.Cure);
        var pieces = await bench.PiecesAsync();
        var wrong = Guid.CreateVersion7();
        FaultReport Wish(Piece piece) => new(new Target(piece.Code), "run", "", new TimeDecision(TimeChoice.Hold, "look at it"));
        BenchShop.Must(await bench.Shop.Get<ReportFault>().RunAsync(bench.Ask(), Wish(pieces[0])));
        BenchShop.Must(await bench.Shop.Get<ReportFault>().RunAsync(bench.Ask(wrong), Wish(pieces[1])));
        BenchShop.Must(await bench.UndoAsync(wrong));
        Assert.Equal(1, Assert.Single((await bench.Shop.Get<InsightView>().LoadAsync(null)).This.Faults).Count);
    }

    [Fact]
    public void Union_OverlappingTouchingAndApart_CountsEachHourOnce() =>
        Assert.Equal(5.5m, InsightView.Union([(0, 2), (1, 3), (3, 4), (7, 8.5m), (7.5m, 8)]));

    [Fact]
    public async Task OpenHours_ClosedDayAndAbsence_AreNotPlanned()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        async Task<decimal> HoursAsync() => (await bench.Shop.Get<InsightView>().LoadAsync(null)).This.OpenHours;
        bench.Shop.Clock.Advance(TimeSpan.FromDays(10));
        var before = await HoursAsync();
        var today = (await bench.Shop.Get<PeopleView>().LoadAsync()).Today;
        async Task ChangeAsync(CalendarChange change) =>
            Assert.True((await bench.Shop.Get<ChangeCalendar>().RunAsync(Asked.By(owner), change)).IsOk);
        await ChangeAsync(new CalendarChange(new ClosedDay(today, "stock-take")));
        // Ada and Bo together cover 7 to 19 h.
        Assert.Equal(before - 12, await HoursAsync());
        await ChangeAsync(new CalendarChange(Open: today));
        await ChangeAsync(new CalendarChange(Away: new Absence("ada", today, today, "")));
        Assert.Equal(before - 4, await HoursAsync());
    }

    [Fact]
    public async Task OpenHours_OfSomebodyEnteredToday_CountFromTodayOn()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        IReadOnlyList<Shift> week = [.. Enum.GetValues<DayOfWeek>().Select(d => new Shift(d, new(8, 0), new(16, 0), new(16, 0)))];
        shop.Clock.Advance(TimeSpan.FromDays(10));
        var input = new PersonInput("ada", null, "Ada", [StationKind.Bench], week, true);
        Assert.True((await shop.Get<KeepPerson>().RunAsync(Asked.By(owner), input)).IsOk);
        var sheet = await shop.Get<InsightView>().LoadAsync(null);
        Assert.Equal((8m, 0m), (sheet.This.OpenHours, sheet.Before.OpenHours));
        shop.Clock.Advance(TimeSpan.FromDays(2));
        Assert.Equal(24m, (await shop.Get<InsightView>().LoadAsync(null)).This.OpenHours);
    }

    [Fact]
    public async Task OpenHours_OfSomebodyWhoLeft_StayInTheMonthsTheyWorked()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        IReadOnlyList<Shift> week = [.. Enum.GetValues<DayOfWeek>().Select(d => new Shift(d, new(8, 0), new(16, 0), new(16, 0)))];
        var input = new PersonInput("ada", null, "Ada", [StationKind.Bench], week, true);
        Assert.True((await shop.Get<KeepPerson>().RunAsync(Asked.By(owner), input)).IsOk);
        shop.Clock.Advance(TimeSpan.FromDays(29));
        var before = (await shop.Get<InsightView>().LoadAsync(null)).Before.OpenHours;
        Assert.Equal(28 * 8m, before);
        var left = input with
        {
            SeenVersion = (await shop.Get<PeopleView>().LoadAsync()).People.Single(p => p.Code == "ada").Version,
            IsActive = false,
        };
        Assert.True((await shop.Get<KeepPerson>().RunAsync(Asked.By(owner), left)).IsOk);
        shop.Clock.Advance(TimeSpan.FromDays(5));
        var sheet = await shop.Get<InsightView>().LoadAsync(null);
        Assert.Equal((before, 2 * 8m), (sheet.Before.OpenHours, sheet.This.OpenHours));
    }

    [Theory]
    [InlineData(0.02, null)]
    [InlineData(0.5, 80)]
    public void MarginPerHour_OfAMachineThatHardlyRan_IsNotSaid(double hours, int? money)
    {
        var row = new MoneyRow("all", 1, 60, 20, 0);
        var figures = new MonthFigures { Money = new Dictionary<InsightBy, IReadOnlyList<MoneyRow>> { [InsightBy.Finish] = [row] } };
        Assert.Equal(money, (int?)figures.MarginPerHour(new MachineRow("Oven", (decimal)hours, 8, 1)));
    }

    [Fact]
    public void Csv_TextsLikeFormulas_AreMadeHarmlessAndNumbersStayNumbers()
    {
        OutTable table = new(
            "t",
            ["name", "amount"],
            [
                ["=1+1", -2.5m],
                ["a, \"b\"", 3],
                ["+49 0", null],
            ]
        );
        var text = Encoding.UTF8.GetString(InsightFiles.Csv([table])[3..]);
        Assert.Equal("table,name,amount\r\nt,'=1+1,-2.5\r\nt,\"a, \"\"b\"\"\",3\r\nt,'+49 0,\r\n", text);
    }

    [Fact]
    public async Task Xlsx_TextsLikeFormulas_AreTextCells()
    {
        OutTable table = new(
            "t",
            ["name", "amount"],
            [
                ["=1+1", -2.5m],
            ]
        );
        using var zip = new ZipArchive(new MemoryStream(await InsightFiles.XlsxAsync([table], default)));
        using var sheet = new StreamReader(zip.GetEntry("xl/worksheets/sheet1.xml")!.Open());
        var xml = await sheet.ReadToEndAsync();
        Assert.Contains("=1+1", xml, StringComparison.Ordinal);
        Assert.Contains("-2.5", xml, StringComparison.Ordinal);
        Assert.DoesNotContain("<f>", xml, StringComparison.Ordinal);
    }
}
