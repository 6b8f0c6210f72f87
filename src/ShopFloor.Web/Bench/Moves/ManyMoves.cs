using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>One verb of the piece for all that a tap is about: for all of them, or for none.</summary>
internal static class ManyMoves
{
    /// <summary>Finds the pieces and lets the verb happen to each.</summary>
    internal static async Task<Result<Moved>> RunAsync(
        CommandWork work,
        Target target,
        Func<Piece, bool> suits,
        string forWhat,
        Func<Piece, Result<PieceEvent>> verb,
        string done
    )
    {
        var found = await Chosen.FindAsync(work.Context, target, suits, forWhat);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        foreach (var piece in found.Value)
        {
            var answer = work.Happen(piece, verb(piece));
            if (!answer.IsOk)
                return Result<Moved>.Refused(Named(piece, answer.Refusals));
        }
        return Say(found.Value, done);
    }

    /// <summary>The sentence about what was done.</summary>
    internal static Moved Say(IReadOnlyList<Piece> pieces, string done, string? batch = null) =>
        new($"{(pieces.Count == 1 ? pieces[0].Code : StepWords.Pieces(pieces.Count))} {done}.", [.. pieces.Select(p => p.Code)], batch);

    /// <summary>Refusals that say which piece they are about.</summary>
    internal static IReadOnlyList<Refusal> Named(Piece piece, IReadOnlyList<Refusal> refusals) =>
        [
            .. refusals.Select(r =>
                r.Text.StartsWith(piece.Code, StringComparison.Ordinal) ? r : r with { Text = $"{piece.Code}: {r.Text}" }
            ),
        ];
}
