using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>
/// Asks before promoter is wiped on while no usable can of the coat that follows is there: the promoter waits only so long, and then has to be
/// wiped anew. A person may go on with a reason, for the can may be on its way.
/// </summary>
internal static class CoatToCome
{
    /// <summary>Code of the question.</summary>
    internal const string Code = "coat-missing";

    /// <summary>The question for each piece that it is asked about.</summary>
    internal static async Task<IReadOnlyDictionary<PieceId, Refusal>> OfAsync(
        CommandWork work,
        IReadOnlyList<Piece> pieces,
        CancellationToken cancel
    )
    {
        var asked = new Dictionary<PieceId, Refusal>();
        var coats = pieces.Where(p => After(p) is not null).GroupBy(p => After(p)!.Value).ToList();
        if (coats.Count == 0)
            return asked;
        var today = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Day(work.Now);
        foreach (var coat in coats)
            if (!await IsThereAsync(work.Context, coat.Key, today, cancel))
                foreach (var piece in coat)
                    asked[piece.Id] = Missing(coat.Key);
        return asked;
    }

    /// <summary>What is said beside the step before it is wiped; null: nothing is missing.</summary>
    internal static async Task<string?> MissingAsync(ShopContext context, Piece piece, DateOnly today, CancellationToken cancel) =>
        After(piece) is { } coat && !await IsThereAsync(context, coat, today, cancel) ? Missing(coat).Text : null;

    private static Refusal Missing(CoatingKind coat) =>
        new Refusal(
            Code,
            $"There is no usable can of {StepWords.Of(coat)} for the coat that follows: the promoter would wait too long and have to be wiped anew. Book one in or free one before you wipe, or say why it is wiped all the same."
        );

    // The coat that is sprayed onto the promoter, while nobody has begun to wipe.
    private static CoatingKind? After(Piece piece) =>
        piece.NextAttended is { Kind: StepKind.Wipe, State: not WorkState.Running } wipe
            ? piece.Items.Where(i => i.Number > wipe.Number && i.Kind == StepKind.Spray).MinBy(i => i.Number)?.Settings.Coating
            : null;

    private static async Task<bool> IsThereAsync(ShopContext context, CoatingKind coat, DateOnly today, CancellationToken cancel) =>
        Can.FirstExpiring(await SprayStock.CansAsync(context, coat, cancel), 0, today) is not null;
}
