using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Tests.Look;

public sealed class DataTableTests : IDisposable
{
    private readonly BunitContext page = new();

    public DataTableTests() => page.Services.AddLocalization();

    public void Dispose() => page.Dispose();

    private sealed record Paid(int Day, decimal Amount);

    /// <summary>Two payments of one day, one amount and the same words are two rows, also after the list was read again.</summary>
    [Fact]
    public void Rows_OfWhichTwoSayTheSame_StandBelowEachOther()
    {
        Paid[] rows = [new(4, 5m), new(4, 5m)];
        var table = page.Render<DataTable<Paid>>(p =>
            p.Add(t => t.Caption, "Payments")
                .Add(t => t.Rows, rows)
                .Add(t => t.Head, "<th>Amount</th>")
                .Add(t => t.Row, row => $"<td>{row.Amount:0.00}</td>")
        );
        table.Render(p => p.Add(t => t.Rows, [new Paid(3, 1m), .. rows]));
        Assert.Equal(["1.00", "5.00", "5.00"], table.FindAll("tbody td").Select(c => c.TextContent));
    }
}
