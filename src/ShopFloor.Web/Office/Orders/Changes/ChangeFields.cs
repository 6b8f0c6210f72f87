using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>Names of the fields of a line, of which a page can have several, and texts as rows.</summary>
internal static class ChangeFields
{
    /// <summary>The name of a line's field on the page.</summary>
    public static string Of(string field, int line) => string.Create(CultureInfo.InvariantCulture, $"{field}-{line}");

    /// <summary>Refusals beside the fields of their line.</summary>
    public static IReadOnlyList<Refusal> On(IReadOnlyList<Refusal> refusals, int line) =>
        [.. refusals.Select(r => r.Field is null ? r : r with { Field = Of(r.Field, line) })];

    /// <summary>True when the order is as the page shows it after this: it was changed, or the person was told that somebody else did.</summary>
    public static bool IsAnswered(Result<Done> done) => done.IsOk || CommandWork.IsOvertaken(done.Refusals);

    /// <summary>Texts as rows.</summary>
    public static string Rows(IReadOnlyList<string> texts) => string.Join('\n', texts);

    /// <summary>Rows as texts; empty ones are left out.</summary>
    public static IReadOnlyList<string> Texts(string? rows) =>
        [.. (rows ?? "").ReplaceLineEndings("\n").Split('\n').Select(t => t.Trim()).Where(t => t.Length > 0)];
}
