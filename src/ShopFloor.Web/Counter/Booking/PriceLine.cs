using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>Turns a line and its fitted steps into work and prices it.</summary>
public static class PriceLine
{
    /// <summary>The price with its parts.</summary>
    public static Result<PriceBreakdown> Compute(LineInput line, IReadOnlyList<RecipeStep> steps, ShopFacts shop, bool rush, string? group)
    {
        var profile = shop.Settings.Profile;
        var byHand = line.PriceByHand is { } price ? new PriceOverride(new Money(price, profile.Currency), line.PriceReason) : null;
        return LinePrice.Compute(
            new PriceRequest(
                Work(line, steps, shop),
                shop.Settings.Rates,
                shop.Settings.Rule,
                rush,
                string.IsNullOrEmpty(group) ? null : group,
                profile.PricesIncludeTax ? shop.TaxPercentOf(line.Piece.IsOwn) : null,
                byHand
            )
        );
    }

    /// <summary>What the line needs, as planned.</summary>
    public static LineWork Work(LineInput line, IReadOnlyList<RecipeStep> steps, ShopFacts shop)
    {
        var (inputs, currency) = (shop.Settings.Inputs, shop.Settings.Profile.Currency);
        var attended = steps.Where(s => !s.Kind.IsRest() && !s.Kind.HasWindow()).Sum(s => s.LengthSeconds);
        var machines = steps.Where(s => s.Kind.HasWindow()).Select(s => Machine(s, line.Piece, shop)).ToList();
        // Hands are needed at the machines too: to load, to unload, to lay up and to stand by a press.
        var handling = steps.Where(s => s.Kind.HasWindow()).Sum(s => HandlingSeconds(s.Kind, s.MinSeconds / Members(s, line.Piece, shop)));
        return new LineWork(
            line.Quantity,
            [.. Coats(steps, shop, currency)],
            new TransferUse(
                PaperSquareCentimetres(line.Piece, line.Placement, shop),
                new Money(inputs.TransferPerSquareCentimetre, currency)
            ),
            new Money(inputs.ConsumablesPerPiece, currency),
            new AttendedTime(attended + handling, inputs.SecondsPerLine),
            machines,
            new Money(line.Piece.IsOwn ? 0 : BlankPrice(line.Piece, shop), currency),
            new SpoilRisk(
                shop.Settings.LossOf(line.Finish, line.Piece.Material),
                new Money(line.Piece.IsOwn ? Math.Min(line.Piece.DeclaredValue ?? 0, inputs.MostLiability) : 0, currency)
            )
        );
    }

    private static IEnumerable<CoatingUse> Coats(IReadOnlyList<RecipeStep> steps, ShopFacts shop, string currency) =>
        steps
            .Where(s => s.Kind == StepKind.Spray || s is { Kind: StepKind.Wipe, Ml: > 0 })
            .GroupBy(s => s.Coating)
            .Select(g =>
            {
                var coating = shop.Coatings.First(c => c.Kind == g.Key);
                return new CoatingUse(
                    coating.Code,
                    coating.Name,
                    g.Sum(s => s.Ml),
                    new Money(coating.Settings.MlPriceOn(shop.Settings.Day(shop.At)), currency)
                );
            });

    /// <summary>Hands at a machine for one piece: to load and unload an oven, to lay up and to stand by a press (common practice, no source).</summary>
    /// <param name="kind">The step.</param>
    /// <param name="share">The piece's share of the time in the machine, s.</param>
    public static decimal HandlingSeconds(StepKind kind, decimal share) => kind == StepKind.Press ? 30 + share : 40;

    /// <summary>Power of the first oven, or of the first press for a form, W.</summary>
    public static decimal Watts(bool oven, ShopFacts shop, Form form = Form.Flat) =>
        shop.Stations.Select(s => s.Settings).FirstOrDefault(s => oven ? s is OvenSettings : s is PressSettings p && p.Suits(form)) switch
        {
            OvenSettings o => o.HeaterWatts ?? 1500,
            PressSettings p => p.Watts,
            _ => 1500,
        };

    private static MachineTime Machine(RecipeStep step, PieceDescription piece, ShopFacts shop)
    {
        var oven = step.Kind.InOven();
        return new MachineTime(
            oven ? "oven" : "press",
            oven ? "Oven" : "Press",
            step.MinSeconds + (oven ? 120 : 60),
            Members(step, piece, shop),
            Watts(oven, shop, piece.Form),
            shop.Settings.Inputs.HeaterDutyPercent
        );
    }

    private static decimal Members(RecipeStep step, PieceDescription piece, ShopFacts shop)
    {
        const decimal Gap = 10;
        var box = (piece.Room.Width.Millimetres + Gap) * (piece.Room.Depth.Millimetres + Gap);
        if (step.Kind.InOven())
        {
            var shelves = shop.Stations.Select(s => s.Settings).OfType<OvenSettings>().FirstOrDefault()?.Shelves ?? [];
            return PriceInputs.Members(
                shelves.Sum(s => s.Width.Millimetres * s.Depth.Millimetres),
                box,
                shop.Settings.Inputs.UsualOvenFill
            );
        }
        // Round pieces are pressed one by one.
        if (piece.Form == Form.Cylinder)
            return 1;
        var press = shop.Stations.Select(s => s.Settings).OfType<PressSettings>().FirstOrDefault(p => !p.Wraps);
        return PriceInputs.Members(
            (press?.Width.Millimetres ?? 0) * (press?.Depth.Millimetres ?? 0),
            box,
            shop.Settings.Inputs.UsualPlatenFill
        );
    }

    /// <summary>
    /// Transfer paper of one piece, cm². A picture that is shown whole and smaller takes less; one that fills the side goes past its edge.
    /// </summary>
    public static decimal PaperSquareCentimetres(PieceDescription piece, PictureOnFace placement, ShopFacts shop)
    {
        var bleed = 2 * shop.Settings.Profile.BleedMillimetres;
        var (width, height) = (piece.Width.Millimetres, piece.BoxHeight.Millimetres);
        var share = placement.Fit == PictureFit.Fit ? (decimal)placement.Share : 1;
        return share < 1 ? share * width * share * height / 100 : (width + bleed) * (height + bleed) / 100;
    }

    private static decimal BlankPrice(PieceDescription piece, ShopFacts shop) =>
        Blanks.Fitting(shop.Items, piece)?.PriceOn(shop.Settings.Day(shop.At)) ?? 0;
}
