using System.Text;
using System.Text.RegularExpressions;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>A node of the page as a browser would hold it: an element, a text, a piece of ready markup, or the place of a component.</summary>
internal sealed partial class CircuitNode(string? element, string? text)
{
    /// <summary>Name of the element; null for texts, markup and components.</summary>
    public string? Element => element;

    public List<CircuitNode> Children { get; } = [];
    public Dictionary<string, string?> Attributes { get; } = new(StringComparer.Ordinal);

    /// <summary>Handlers by attribute, for instance "onclick".</summary>
    public Dictionary<string, ulong> Handlers { get; } = new(StringComparer.Ordinal);

    /// <summary>The text of a text node or the source of a piece of markup.</summary>
    public string? Own { get; set; } = text;

    /// <summary>This node and all below it, in the order of the page.</summary>
    public IEnumerable<CircuitNode> All() => Children.SelectMany(c => c.All()).Prepend(this);

    /// <summary>The words a person reads in it, spaces folded.</summary>
    public string Words
    {
        get
        {
            var words = new StringBuilder();
            foreach (var node in All())
                words.Append(' ').Append(node.Own is { } own ? Tag().Replace(own, " ") : "");
            return Spaces().Replace(words.ToString(), " ").Trim();
        }
    }

    [GeneratedRegex("<[^>]*>", RegexOptions.None, 1000)]
    private static partial Regex Tag();

    [GeneratedRegex(@"\s+", RegexOptions.None, 1000)]
    private static partial Regex Spaces();
}
