using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.TestPieces;

/// <summary>
/// Asks before the first step of a piece that was booked with the word "test piece first", as long as no test of its material, and no test
/// piece of its own line, came out well. A person may go on with a reason, or put it aside.
/// </summary>
internal static class TestFirst
{
    /// <summary>Code of the question.</summary>
    internal const string Code = "test-first";

    /// <summary>The question for each line of the pieces that has no good test; pieces in work already are not asked about again.</summary>
    internal static async Task<IReadOnlyDictionary<OrderLineId, Refusal>> OfAsync(
        CommandWork work,
        IReadOnlyList<Piece> pieces,
        CancellationToken cancel = default
    )
    {
        var asked = new Dictionary<OrderLineId, Refusal>();
        var firsts = pieces.Where(IsFresh).DistinctBy(p => p.Line).ToList();
        if (firsts.Count == 0)
            return asked;
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        foreach (var piece in firsts)
            if (await IsMissingAsync(work, piece, settings, cancel))
                asked[piece.Line] = new Refusal(
                    Code,
                    "This material asks for a test piece first, and none came out well yet. Make a test piece, or say why it goes on without."
                );
        return asked;
    }

    /// <summary>The question for one piece; null: none.</summary>
    internal static Refusal? For(this IReadOnlyDictionary<OrderLineId, Refusal> asked, Piece piece) =>
        IsFresh(piece) ? asked.GetValueOrDefault(piece.Line) : null;

    private static bool IsFresh(Piece piece) => piece is { State: PieceState.Received, IsTest: false };

    private static async Task<bool> IsMissingAsync(CommandWork work, Piece piece, CurrentSettings settings, CancellationToken cancel)
    {
        var line = await work
            .Context.Orders.Where(o => o.Id == piece.Order)
            .SelectMany(o => o.Lines)
            .AsNoTracking()
            .FirstAsync(l => l.Id == piece.Line, cancel);
        // Of a material that nobody can name only the line's own test says anything.
        return IsMissing(line, piece, settings)
            ?? !await work.Context.Pieces.AnyAsync(p => p.Line == piece.Line && p.IsTest && p.State == PieceState.CheckedGood, cancel);
    }

    /// <summary>True when a piece that is not begun asks for a test and its material has none that is good; null: no test of it is known.</summary>
    internal static bool? IsMissing(OrderLine line, Piece piece, CurrentSettings settings)
    {
        if (piece is not { State: PieceState.Received or PieceState.Booked, IsTest: false } || !line.AsksForTest)
            return false;
        // A test of the material says nothing of an old coat on this piece: only the line's own test does.
        if (line.Piece is { IsOwn: true, Hidden.MayHaveOldCoat: true })
            return null;
        var heat = TestHeat.Of(piece);
        var material = settings.Material(line.Piece.Material);
        return TestedHere.Latest(settings.Tests, material, line.Piece.Form, heat.Cure, heat.Press) is { } test
            ? test.Outcome == TestOutcome.Refuse
            : null;
    }

    /// <summary>Codes of the pieces that the Bench would not begin before their test.</summary>
    internal static IReadOnlySet<string> Waiting(OpenWork work)
    {
        bool Waits(Piece piece) => IsMissing(work.LineOf(piece), piece, work.Settings) ?? !work.TestedLines.Contains(piece.Line);
        return work.Pieces.Where(Waits).Select(p => p.Code).ToHashSet(StringComparer.Ordinal);
    }
}
