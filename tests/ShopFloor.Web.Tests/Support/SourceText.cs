using System.Text;

namespace ShopFloor.Web.Tests.Support;

/// <summary>Reads string literals out of C# source, as far as tests of words need it: no raw and no verbatim strings.</summary>
internal static class SourceText
{
    /// <summary>What stands for something that is filled in.</summary>
    public const string Filling = "X7";

    /// <summary>The string literals of the second argument of each call, what is filled in replaced.</summary>
    /// <param name="source">The file.</param>
    /// <param name="call">The call with its bracket, like <c>new Refusal(</c>.</param>
    public static IEnumerable<string> SecondArguments(string source, string call)
    {
        for (var at = source.IndexOf(call, StringComparison.Ordinal); at >= 0; at = source.IndexOf(call, at + 1, StringComparison.Ordinal))
            foreach (var literal in Literals(source, at + call.Length))
                yield return literal;
    }

    private static List<string> Literals(string source, int at)
    {
        var (found, depth, argument) = (new List<string>(), 0, 0);
        for (; at < source.Length; at++)
            switch (source[at])
            {
                case '"':
                    var text = Literal(source, ref at);
                    if (argument == 1)
                        found.Add(text);
                    break;
                case '(' or '[' or '{':
                    depth++;
                    break;
                case ')' or ']' or '}' when depth-- == 0:
                    return found;
                case ',' when depth == 0:
                    argument++;
                    break;
            }
        return found;
    }

    // Leaves the place at the closing quotation mark.
    private static string Literal(string source, ref int at)
    {
        var filled = at > 0 && source[at - 1] == '$';
        var text = new StringBuilder();
        for (at++; source[at] != '"'; at++)
            if (source[at] == '\\')
                text.Append(source[++at]);
            else if (filled && source[at] == '{')
            {
                Skip(source, ref at);
                text.Append(Filling);
            }
            else
                text.Append(source[at]);
        return text.ToString();
    }

    // From an opening brace to its closing one, over strings within.
    private static void Skip(string source, ref int at)
    {
        for (var depth = 0; ; at++)
            if (source[at] == '"')
                Literal(source, ref at);
            else if (source[at] == '{')
                depth++;
            else if (source[at] == '}' && --depth == 0)
                return;
    }
}
