using System.Text.RegularExpressions;
using System.Xml.Linq;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Look;

/// <summary>
/// Walks the source: every refusal that Counter, Bench or Wall can show has its German, with places for what is filled in. Seen to fail with
/// a line taken out.
/// </summary>
public sealed class RefusalWordsTests
{
    private static readonly string[] Folders =
    [
        "src/ShopFloor.Web/Bench",
        "src/ShopFloor.Web/Counter",
        "src/ShopFloor.Web/Wall",
        "src/ShopFloor.Web/Commands",
        "src/ShopFloor.Web/Shared",
        "src/ShopFloor.Documents/Imaging",
        "src/ShopFloor.Domain/Calls",
        "src/ShopFloor.Domain/Glass",
        "src/ShopFloor.Domain/Materials",
        "src/ShopFloor.Domain/Orders",
        "src/ShopFloor.Domain/Pictures",
        "src/ShopFloor.Domain/Pieces",
        "src/ShopFloor.Domain/Pricing",
        "src/ShopFloor.Domain/Quantities",
        "src/ShopFloor.Domain/Recipes",
        "src/ShopFloor.Domain/Stock",
    ];

    /// <summary>Said only in the Office, which speaks English.</summary>
    private static readonly string[] Office =
    [
        "Orders/Complaint.cs",
        "Orders/LinePieces.cs",
        "Orders/OrderChanges.cs",
        "Orders/OrderCharge.cs",
        "Orders/OrderDiscount.cs",
        "Pricing/RateCard.cs",
        "Recipes/Recipe.cs",
        "Recipes/RecipeRules.cs",
        "Stock/Coating.cs",
        "Stock/SafetySheet.cs",
        "Stock/StockItem.cs",
    ];

    /// <summary>Put together of words that have their German each (<c>SpokenTests</c>), or asked for in the Office only.</summary>
    private static readonly string[] Elsewhere =
    [
        "X7: X7 was X7X7X7. Nothing more to do here.",
        "There is no usable X7 X7",
        "X7: X7.",
        "Write the question in at most 500 characters.",
        "An order has at most 20 questions. Call the customer.",
        "A firm's name has at most 200 characters.",
        "A tax id has at most 20 characters.",
        "This customer's data was erased.",
    ];

    [Fact]
    public void Refusals_OfCounterBenchAndWall_HaveTheirGerman()
    {
        var forms = Keys().Select(Form).ToList();
        var said =
            from folder in Folders
            from file in Tree.Files(folder, ".cs")
            where !Office.Any(o => file.EndsWith(o, StringComparison.Ordinal))
            from text in SourceText.SecondArguments(Tree.Text(file), "new Refusal(")
            where text.Trim().Contains(' ', StringComparison.Ordinal) && !Elsewhere.Contains(text, StringComparer.Ordinal)
            select text;
        var all = said.Distinct(StringComparer.Ordinal).ToList();
        Assert.True(all.Count > 100, $"Only {all.Count} refusals were found.");
        Assert.Equal([], all.Where(t => !forms.Exists(f => f.IsMatch(t))));
    }

    private static IEnumerable<string> Keys() =>
        from file in new[] { "Bench/BenchTexts", "Counter/CounterTexts" }
        from data in XDocument.Parse(Tree.Text($"src/ShopFloor.Web/{file}.de.resx")).Root!.Elements("data")
        select data.Attribute("name")!.Value;

    // A key with fewer letters of its own would fit nearly everything.
    private static Regex Form(string key) =>
        key.Count(char.IsLetter) < 4
            ? new Regex("(?!)", RegexOptions.None, TimeSpan.FromSeconds(1))
            : new Regex(
                $"^{Regex.Replace(Regex.Escape(key), @"\\\{[0-9]}", ".+?", RegexOptions.None, TimeSpan.FromSeconds(1))}$",
                RegexOptions.Singleline,
                TimeSpan.FromSeconds(1)
            );
}
