using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Asks at Tape when the sheets of the order were never printed here, or the print that the piece had is used up: the print may be another order's, or one of an older proof.</summary>
internal static class Unprinted
{
    /// <summary>Code of the question.</summary>
    internal const string Code = "not-printed";

    /// <summary>True when the piece's next step is Tape, nobody has begun it, and its print was not printed here.</summary>
    internal static bool Is(Piece piece, bool isPrinted) =>
        !isPrinted && piece is { IsTest: false, NextAttended: { Kind: StepKind.Tape, State: not WorkState.Running } };

    /// <summary>The question for each piece that it is asked about.</summary>
    internal static async Task<IReadOnlyDictionary<PieceId, Refusal>> OfAsync(
        CommandWork work,
        IReadOnlyList<Piece> pieces,
        CancellationToken cancel
    )
    {
        var ids = pieces.Select(p => p.Order).Distinct().ToList();
        var orders = await work.Context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel);
        var missing = await PrintedParts.MissingAsync(work.Context, ids, cancel);
        var used = await UsedPrints.OfAsync(work.Context, ids, cancel);
        var asked = pieces
            .Where(p => Is(p, !missing.Contains(p.Code)))
            .ToDictionary(p => p.Id, p => used.ContainsKey(p.Code) ? UsedUp(p) : Again(p));
        foreach (var order in orders.Where(o => o.PrintedAt is null))
        {
            var printed = await PrintedParts.CodesAsync(work.Context, order, cancel);
            var question = new Refusal(
                Code,
                $"The sheet of order {order.Number} was not printed here yet. Print it, or say why there is a print all the same."
            );
            foreach (var piece in pieces.Where(p => p.Order == order.Id && Is(p, printed.Contains(p.Code))))
                asked[piece.Id] = question;
        }
        return asked;
    }

    private static Refusal Again(Piece piece) =>
        new Refusal(
            Code,
            $"{piece.Code} was made anew after the sheet was printed: its print must be made again. Print it, or say why there is a print all the same."
        );

    private static Refusal UsedUp(Piece piece) =>
        new Refusal(
            Code,
            $"{piece.Code} went back after its print was on: the print must be made again. Print it, or say why there is a print all the same."
        );
}
