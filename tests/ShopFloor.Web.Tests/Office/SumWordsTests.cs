using System.Globalization;
using Bunit;
using ShopFloor.Web.Office.Insight;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Sums below tables say all that they are made of.</summary>
public sealed class SumWordsTests
{
    [Theory]
    [InlineData(696.60, "rounding -0.02")]
    [InlineData(696.62, null)]
    public async Task Invoices_WhatCashWasRoundedBy_StandsAmongTheSums(double gross, string? rounding)
    {
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        await using var page = TestPage.Plain();

        var said = page.Render<SumsLine>(p => p.Add(s => s.Sum, new ListSum("EUR", 585.39m, 111.23m, (decimal)gross, 0m)))
            .Find("p")
            .TextContent;

        Assert.Contains($"with tax {gross:F2}", said, StringComparison.Ordinal);
        if (rounding is null)
            Assert.DoesNotContain("rounding", said, StringComparison.Ordinal);
        else
            Assert.Contains(rounding, said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Insight_AllRows_SayTheMarginInPercentToo()
    {
        await using var page = TestPage.Plain();
        MoneyRow[] rows = [new("One", 1, 200m, 150m, 0m), new("Two", 2, 165.05m, 96.56m, 0m)];

        var table = page.Render<MoneyTable>(p => p.Add(t => t.Rows, rows).Add(t => t.Currency, "EUR").Add(t => t.Of, "finish"));

        // 118.49 of 365.05.
        Assert.Equal("32", table.FindAll("tfoot td").Last().TextContent);
    }
}
