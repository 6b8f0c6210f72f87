using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>How often the workshop reworks a piece: read only where something is sent back.</summary>
internal static class ReworkLimit
{
    internal static async Task<int> OfAsync(CommandWork work, TimeDecision? decision, CancellationToken cancel = default) =>
        decision is { Choice: TimeChoice.Rework }
            ? (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Profile.Limits.MostReworks
            : Piece.UsualReworks;
}
