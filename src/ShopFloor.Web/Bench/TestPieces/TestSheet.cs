using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Bench.TestPieces;

/// <summary>What the Bench says about tests of a piece's material.</summary>
/// <param name="Sentence">What the latest own test has shown; null: none that counts.</param>
/// <param name="On">Its day in the workshop.</param>
/// <param name="IsBad">True when it was not good.</param>
/// <param name="By">Code of the piece that showed it.</param>
/// <param name="IsWanted">True when a test piece is asked for first.</param>
/// <param name="Open">Code of the line's test piece that is not judged yet.</param>
public sealed record TestSheet(string? Sentence, DateOnly? On, bool IsBad, string? By, bool IsWanted, string? Open)
{
    internal static TestSheet? Of(OpenWork work, Piece piece)
    {
        if (piece.IsTest)
            return null;
        var line = work.LineOf(piece);
        var heat = TestHeat.Of(piece);
        var material = work.Settings.Material(line.Piece.Material);
        var test = TestedHere.Latest(work.Settings.Tests, material, line.Piece.Form, heat.Cure, heat.Press);
        var coated = line.Piece is { IsOwn: true, Hidden.MayHaveOldCoat: true };
        // Where no test of the material says anything, the line's own does.
        var missing = (test is null || coated) && !work.TestedLines.Contains(piece.Line);
        var wanted = missing && line.AsksForTest && piece.State is not PieceState.CheckedGood && !piece.State.IsEnd();
        var open = work.Pieces.FirstOrDefault(p => p.Line == piece.Line && p is { IsTest: true, IsOver: false });
        if (test is null && !wanted && open is null && piece.State != PieceState.Held)
            return null;
        return new TestSheet(
            test?.Sentence,
            test is null ? null : work.Settings.Day(test.At),
            test?.Outcome == TestOutcome.Refuse,
            test?.Piece,
            wanted,
            open?.Code
        );
    }
}
