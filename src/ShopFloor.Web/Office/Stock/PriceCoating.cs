using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Stock;

/// <summary>A purchase price of a coating.</summary>
/// <param name="Id">The coating.</param>
/// <param name="From">The first day it holds, shop-local.</param>
/// <param name="Price">Of a can, without tax.</param>
public sealed record CoatingPriceInput(CoatingId Id, DateOnly From, decimal Price);

/// <summary>Enters what a can costs from a day on. Orders that are booked keep the price they were made with.</summary>
public sealed class PriceCoating(CommandRunner runner) : IUseCase
{
    /// <summary>Enters it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CoatingPriceInput input, CancellationToken cancel = default) =>
        runner.RunAsync<CoatingPriceInput, Done>(
            nameof(PriceCoating),
            Allowed.Owner,
            asked,
            input,
            async work =>
            {
                if (await work.Context.Coatings.FirstOrDefaultAsync(c => c.Id == input.Id, cancel) is not { } coating)
                    return new Refusal("coating-missing", "This coating is no longer there.");
                var before = JsonSerializer.Serialize(coating.Settings.Prices, JsonForms.Default);
                var done = coating.Change(coating.Name, coating.Settings.PricedFrom(input.From, input.Price));
                if (!done.IsOk)
                    return done;
                work.Audit(
                    "coating price changed",
                    coating.Code,
                    before,
                    JsonSerializer.Serialize(coating.Settings.Prices, JsonForms.Default)
                );
                work.Touch(Topic.Stock, coating.Id.Value);
                work.Touch(Topic.Price, Guid.Empty);
                return done;
            },
            cancel
        );
}
