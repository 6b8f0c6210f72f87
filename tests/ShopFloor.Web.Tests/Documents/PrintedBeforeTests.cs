using Microsoft.EntityFrameworkCore;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;
using ShopFloor.Web.Tests.Bench;

namespace ShopFloor.Web.Tests.Documents;

/// <summary>Transfers that lie printed on one paper are not printed on a second one without a word.</summary>
public sealed class PrintedBeforeTests
{
    [Fact]
    public async Task List_SheetsPrintedUnderAnotherName_SaysSoOnTheOrdersRowAndNotOnItsOwn()
    {
        await using var bench = await BenchShop.OpenAsync(2, texts: ["Ada"], printed: false);
        await using var context = await bench.Shop.ContextAsync();
        var order = await context.Orders.SingleAsync();
        var number = order.Number.ToString(CultureInfo.InvariantCulture);
        var codes = (await bench.PiecesAsync()).Select(p => p.Code).ToList();
        async Task<string> PrintAsync(string subject, IReadOnlyList<string> some)
        {
            var parts = new PrintedOrder(order.Id.Value, IsWhole: false) { Codes = some };
            var print = new PaperPrint(new PaperWish(PaperKind.Sheets, subject), []) { Orders = [parts] };
            var done = await bench.Shop.Get<PrintPaper>().RunAsync(Asked.By(bench.Worker), print);
            Assert.True(done.IsOk);
            bench.Wait(60);
            return done.Value.Number;
        }
        async Task<PaperLine> RowAsync() =>
            (await bench.Shop.Get<PaperList>().ReadAsync()).Single(l => l.Wish.Kind == PaperKind.Sheets && l.Wish.Subject == number);
        Assert.Equal((0, 2), ((await RowAsync()).Before, (await RowAsync()).Transfers));

        var first = await PrintAsync("2026-03-02", [codes[0]]);
        var row = await RowAsync();
        Assert.Equal((1, 2), (row.Before, row.Transfers));
        Assert.Equal([first], row.On);

        var second = await PrintAsync("S-1", [codes[1]]);
        row = await RowAsync();
        Assert.Equal((2, 2), (row.Before, row.Transfers));
        Assert.Equal([first, second], row.On);

        await PrintAsync(number, codes);
        row = await RowAsync();
        Assert.Equal((0, 1), (row.Before, row.Printed.Times));
    }
}
