using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>Station and can were chosen when the batch was put together; much may have happened to them until it begins.</summary>
internal static class ReadyToBegin
{
    /// <summary>Why a batch cannot begin with what it was put together with; null: it can.</summary>
    internal static async Task<Refusal?> RefuseAsync(CommandWork work, Batch batch, Station station)
    {
        if (!station.IsActive || station.DownUntil > work.Now)
            return new Refusal(
                "station-missing",
                $"{station.Name} cannot be used now. Give {batch.Code} up and put its pieces together at another, or wait."
            );
        if (batch.Kind != BatchKind.SprayRound)
            return null;
        var (_, why) = await CanAsync(work, batch);
        return why is null
            ? null
            : why with
            {
                Text = $"{why.Text} Scan a piece of {batch.Code} in once more, and another can is chosen; or give {batch.Code} up.",
            };
    }

    /// <summary>The can of a round while it may be sprayed from; else why it may not.</summary>
    internal static async Task<(Can? Usable, Refusal? Why)> CanAsync(CommandWork work, Batch batch)
    {
        if (batch.Can is not { } id || await work.Context.Cans.FindAsync(id) is not { } can)
            return (null, new Refusal("can-missing", $"The can of {batch.Code} must not be used any more.", "can"));
        var today = (await CurrentSettings.LoadAsync(work.Context, work.Now, default)).Day(work.Now);
        return can.Unusable(today) is { } why ? (null, why) : (can, null);
    }
}
