using System.Text.RegularExpressions;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Wall.Parts;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Architecture;

/// <summary>Two rows of a list with one key end the page at the next change: what can repeat goes through RowKeys.</summary>
public sealed partial class RowKeyTests
{
    // Names that the program itself gives, each once in its list.
    private static readonly string[] Given =
    [
        "Office/Settings/NumberForm.razor field.Name",
        "Office/Sending/MailTextFields.razor text.Name",
        "Office/Workshop/WorkshopPage.razor text.Name",
        "Office/Workshop/LetterTextsPage.razor text.Name",
        "Office/Orders/Changes/QuantityEffect.razor row.Name",
        "Office/Calculators/CalculatorPage.razor choice.Name",
        // Groups by just these, and a single child whose key only says when it is drawn anew.
        "Bench/Pages/CodePage.razor (piece.Step?.Number, piece.State, piece.Step?.IsRunning)",
        "Counter/Intake/OrderPage.razor @((step, keeper.Entry.At))",
        "Shared/Controls/UndoBar.razor Text",
    ];

    // Seen to fail with the Wall's rows by who, now and next.
    [Fact]
    public void Keys_OfWordsAndNames_AreRowKeysOrGivenByTheProgram()
    {
        var found =
            from file in Tree.Files("src/ShopFloor.Web", ".razor")
            from Match match in Key().Matches(string.Join('\n', Tree.Lines(file)))
            let key = match.Groups["key"].Value
            where Repeatable().IsMatch(key)
            select $"{file[(file.IndexOf("ShopFloor.Web/", StringComparison.Ordinal) + 14)..]} {key}";
        Assert.Equal([], found.Except(Given));
    }

    [Fact]
    public void RowKeys_RowsThatAreAlike_EachHasItsOwnInTheSameOrder()
    {
        string?[] rows = ["a", "b", "a", null, "a", null];
        var keyed = RowKeys.Of(rows, r => r).ToList();
        Assert.Equal(rows, keyed.Select(k => k.Row));
        Assert.Equal(["a", "b", ((object)"a", 2), null, ((object)"a", 3), null], keyed.Select(k => k.Key));
        Assert.All(RowKeys.Of(rows, null), k => Assert.Null(k.Key));
    }

    [Fact]
    public async Task Rows_OfTwoPeopleOfOneName_BothStandAndTheWallGoesOn()
    {
        await using var page = new BunitContext();
        page.Services.AddLocalization();
        page.Services.AddSingleton<ShopFloor.Web.Shared.Spoken>();
        NowNext[] rows = [new("Ida", "free", "", null), new("Ida", "free", "", null), new("Oven", "", "", null)];
        var panel = page.Render<RowPanel>(p => p.Add(r => r.Rows, rows));
        panel.Render(p => p.Add(r => r.Rows, [rows[2], rows[0], rows[1]]));
        Assert.Equal(["Oven", "Ida", "Ida"], panel.FindAll(".now-who").Select(w => w.TextContent));
    }

    [GeneratedRegex("""@key="(?<key>[^"]+)"(?=[\s>/])""", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Key();

    [GeneratedRegex(@"^\(|^@\(|\.(Name|Title|Text|Word|Words|What|Who)$|^(Text|Title|Name|Word)$", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Repeatable();
}
