using System.Diagnostics.CodeAnalysis;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Background.Demo;

/// <summary>How far a demo order has come.</summary>
/// <param name="Order">What was ordered.</param>
/// <param name="DaysAgo">When it was booked.</param>
/// <param name="Stage">The step its pieces are at; null: only booked.</param>
/// <param name="Running">True: that step runs now; false: it is the next.</param>
/// <param name="End">How the story ends, when it has ended.</param>
/// <param name="Picture">Which generated picture.</param>
public sealed record DemoOrder(OrderInput Order, double DaysAgo, StepKind? Stage, bool Running, PieceState? End, int Picture)
{
    /// <summary>Whole days from the first day of promises to that of an order that is still open: the older the order, the nearer.</summary>
    public int DaysLeft => Math.Max(0, 3 - (int)DaysAgo);
}

/// <summary>The orders of an invented workshop: every stage of life, every finish. All people and names are made up.</summary>
public static class DemoOrders
{
    /// <summary>All of them, oldest first.</summary>
    public static IReadOnlyList<DemoOrder> All(DateOnly today) => [.. Earlier(), .. Lately(today)];

    /// <summary>What the weeks before left behind, so that a month has one before it to be held against.</summary>
    private static IEnumerable<DemoOrder> Earlier() =>
        [
            Over(48, Order("Hedda Moor", Plate("al", 100, 60, 1, 6, Finish.ShowThrough), "Bottle tags for the cider press"), 0),
            Over(40, Order("Bakery Sonnrain", Plate("slate", 200, 150, 5, 2, Finish.WhiteGround), "Price slates"), 2),
            Over(33, Order("Pelle Strand", Own("al-ano", 80, 80, 1.5m, Finish.ShowThrough, 40), "Cover of a model boat"), 0),
            Over(26, Order("Rowing Club Moorstedt", Disc("al", 70, 1, 5, Finish.WhiteGround), "Medals of the regatta"), 1),
            Over(20, Order("Greta Olsen", Own("tile", 150, 150, 6, Finish.WhiteGround, 25), "Tile with the dog"), 3),
            Over(15, Order("Fire Brigade Moorstedt", Plate("al", 80, 50, 1, 4, Finish.VelvetMatt), "Locker plates"), 4),
            Over(2.2, Order("Anneli Vogt", Plate("al", 100, 60, 1, 2, Finish.ShowThrough), "Signs for the bee hives"), 3),
        ];

    private static DemoOrder Over(double daysAgo, OrderInput order, int picture) =>
        new(order, daysAgo, StepKind.Pack, false, PieceState.HandedOver, picture);

    [SuppressMessage("Design", "MA0051:Method is too long", Justification = "A list of orders, one after the other.")]
    private static IEnumerable<DemoOrder> Lately(DateOnly today) =>
        [
            new(
                Order("Ines Haldorf", Plate("al", 100, 60, 1, 12, Finish.WhiteGround), "Name plates for a boat club"),
                9,
                StepKind.Pack,
                false,
                PieceState.HandedOver,
                0
            ),
            new(
                Order("Tobin Marsh", Own("ss", 90, 140, 1.2m, Finish.ShowThrough, 45), "Lighter plate of his father"),
                8,
                StepKind.Pack,
                false,
                PieceState.HandedOver,
                1
            ),
            new(
                Order("Café Krähennest", Plate("slate", 200, 150, 5, 4, Finish.WhiteGround), "Menu slates"),
                7,
                StepKind.Pack,
                false,
                PieceState.CheckedGood,
                2
            ),
            new(
                Order("Mira Solberg", Own("tile", 150, 150, 6, Finish.WhiteGround, 20), "Tile from the old kitchen"),
                6,
                StepKind.Pack,
                false,
                PieceState.CheckedGood,
                3
            ),
            new(
                Order(
                    "Jonas Field",
                    Own("glass", 180, 130, 3, Finish.BehindGlass, 35, "The lower left corner is chipped already. Please do not grind it."),
                    "Glass of a picture frame"
                ),
                4,
                StepKind.Press,
                false,
                null,
                4
            ),
            new(Order("Petra Lindqvist", Plate("al", 80, 50, 1, 8, Finish.ShowThrough), "Tool labels"), 3, StepKind.Cure, true, null, 0),
            new(
                Order(
                    "Aldo Ferri",
                    Own("al-ano", 60, 60, 1.5m, Finish.ShowThrough, 60, "The hole in the middle must stay free."),
                    "Dial cover"
                ),
                3,
                StepKind.Cure,
                false,
                null,
                1
            ),
            new(Order("Nora Winter", Plate("al", 100, 60, 1, 6, Finish.VelvetMatt), "Door signs"), 2.5, StepKind.Tape, false, null, 2),
            new(
                Order("Harbour School", Disc("al", 70, 1, 20, Finish.WhiteGround), "Medals for the sports day"),
                2,
                StepKind.Wipe,
                false,
                null,
                3
            ),
            new(
                Order("Samir Odeh", Own("steel", 120, 40, 2, Finish.ShowThrough, 80), "Knife rest, heirloom"),
                2,
                StepKind.Spray,
                false,
                PieceState.Held,
                4
            ),
            new(
                Order("Lotte Brandt", Plate("al", 150, 100, 1.5m, 3, Finish.WhiteGround), "Garden signs"),
                1,
                StepKind.Clean,
                false,
                null,
                0
            ),
            new(
                Order("Emil Quist", Own("slate", 220, 160, 8, Finish.WhiteGround, 15), "Roof slate with the house"),
                1,
                StepKind.Clean,
                false,
                null,
                1
            ),
            new(
                Order("Runa Berg", Own("glass", 130, 90, 4, Finish.BehindGlass, 25), "Lid of a music box", today.AddDays(6)),
                0.4,
                null,
                false,
                null,
                2
            ),
            new(
                Order("Viktor Amsel", Plate("al", 100, 60, 1, 10, Finish.ShowThrough), "Serial plates", today.AddDays(8)),
                0.2,
                null,
                false,
                null,
                3
            ),
            new(
                Order("Clara Boone", Own("al", 210, 148, 2, Finish.WhiteGround, 30), "Number plate of a tractor"),
                5,
                StepKind.Press,
                false,
                PieceState.Spoiled,
                4
            ),
        ];

    private static OrderInput Order(string name, LineInput line, string note, DateOnly? wanted = null) =>
        new()
        {
            Contact = new Contact(name, $"{new string([.. name.ToLowerInvariant().Where(char.IsAsciiLetter)])}@example.org", ""),
            Lines = [line],
            RiskAccepted = line.Piece.IsOwn,
            RightsAccepted = true,
            ContactAgreed = true,
            Wanted = wanted,
            Note = note,
        };

    private static LineInput Plate(string material, decimal width, decimal height, decimal thickness, int count, Finish finish) =>
        Line(material, FaceShape.Rectangle, (width, height, thickness), count, finish, null);

    private static LineInput Disc(string material, decimal diameter, decimal thickness, int count, Finish finish) =>
        Line(material, FaceShape.Disc, (diameter, diameter, thickness), count, finish, null);

    private static LineInput Own(
        string material,
        decimal width,
        decimal height,
        decimal thickness,
        Finish finish,
        decimal value,
        string says = ""
    ) => Line(material, FaceShape.Rectangle, (width, height, thickness), 1, finish, value, says);

    private static LineInput Line(
        string material,
        FaceShape face,
        (decimal Width, decimal Height, decimal Thickness) size,
        int count,
        Finish finish,
        decimal? ownValue,
        string says = ""
    ) =>
        new()
        {
            Piece = new PieceDescription
            {
                Material = material,
                Face = face,
                Width = Length.FromMillimetres(size.Width),
                Height = Length.FromMillimetres(size.Height),
                Thickness = Length.FromMillimetres(size.Thickness),
                IsOwn = ownValue is not null,
                DeclaredValue = ownValue,
                Hidden = HiddenParts.None,
                Note = says,
            },
            Quantity = count,
            Finish = finish,
        };
}
