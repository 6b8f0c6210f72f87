using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.TestPieces;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>What has to be decided about the members of a batch: one question for all that have the same to be said of them.</summary>
internal sealed class MemberQuestions
{
    // More codes than that are no help to the eye.
    private const int MostNames = 8;

    private readonly List<(Refusal Question, List<Piece> Pieces)> asked = [];

    /// <summary>The questions, each with its pieces in its text and their codes, with spaces between them, as its field.</summary>
    internal IReadOnlyList<Refusal> Refusals => [.. asked.Select(a => a.Pieces.Count == 0 ? a.Question : Named(a.Question, a.Pieces))];

    /// <summary>True when a person may decide it.</summary>
    internal static bool IsToDecide(IReadOnlyList<Refusal> refusals) => refusals.All(r => IsToDecide(r.Code));

    /// <summary>The same for the code of one refusal.</summary>
    internal static bool IsToDecide(string code) =>
        code
            is "too-early"
                or "too-late"
                or "temperature-off"
                or "oven-hot"
                or ColdStation.Code
                or TestFirst.Code
                or Moves.Unprinted.Code
                or Moves.PrintAge.Damp
                or Moves.PrintAge.Stale
                or Moves.CoatToCome.Code;

    /// <summary>Asks about the batch itself.</summary>
    internal void Ask(Refusal question) => asked.Add((question, []));

    /// <summary>Asks about a piece.</summary>
    internal void Ask(Piece piece, IReadOnlyList<Refusal> refusals)
    {
        foreach (var refusal in refusals)
            if (asked.Find(a => a.Question == refusal && a.Pieces.Count > 0).Pieces is { } others)
                others.Add(piece);
            else
                asked.Add((refusal, [piece]));
    }

    private static Refusal Named(Refusal question, List<Piece> pieces)
    {
        string[] names = [.. pieces.GroupBy(p => p.Tray ?? p.Code).Select(g => g.Count() == 1 ? g.First().Code : $"{g.Count()} × {g.Key}")];
        var who = names.Length > MostNames ? Moves.StepWords.Pieces(pieces.Count) : string.Join(", ", names);
        return question with { Text = $"{who}: {question.Text}", Field = string.Join(' ', pieces.Select(p => p.Code)) };
    }
}
