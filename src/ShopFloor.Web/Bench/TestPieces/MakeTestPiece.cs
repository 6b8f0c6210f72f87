using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.TestPieces;

/// <summary>
/// Makes a test piece for the line of a piece: a piece of its own with the same steps, planned and traced like any other. Of the same
/// material, from stock or scrap; it is neither counted nor invoiced.
/// </summary>
public sealed class MakeTestPiece(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, Target target, CancellationToken cancel = default) =>
        runner.RunAsync<Target, Moved>(
            nameof(MakeTestPiece),
            Allowed.Bench,
            asked,
            target,
            work => DecideAsync(work, target, cancel),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, Target target, CancellationToken cancel)
    {
        var found = await Chosen.FindAsync(work.Context, target, p => !p.IsTest, "of this line", cancel);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var like = found.Value[0];
        var open = await work.Context.Pieces.FirstOrDefaultAsync(
            p => p.Line == like.Line && p.IsTest && p.State != PieceState.Spoiled && p.State != PieceState.CheckedGood,
            cancel
        );
        if (open is not null)
            return new Refusal("test-open", $"{open.Code} is the test piece of this line and not judged yet.");
        var number = await work.Context.Pieces.Where(p => p.Line == like.Line).MaxAsync(p => p.Number, cancel);
        var piece = await NewAsync(work, like, number + 1, work.Now, cancel);
        return new Moved($"{piece.Code} is the test piece. Take a piece of the same material and mark it {piece.Code}.", [piece.Code]);
    }

    /// <summary>A test piece with the steps that another piece was booked with.</summary>
    internal static async Task<Piece> NewAsync(CommandWork work, Piece like, int number, DateTimeOffset at, CancellationToken cancel)
    {
        var piece = new Piece(new PieceId(Guid.CreateVersion7()));
        var code = ShortCode.FromNumber(await work.NextNumberAsync("code", cancel));
        var steps = like.Items.OrderBy(i => i.Number).Select(i => i.Settings).ToList();
        work.Happen(piece, new PieceBooked(at, code, like.Order, like.Line, number, false, null, steps, IsTest: true));
        work.Context.Pieces.Add(piece);
        return piece;
    }
}
