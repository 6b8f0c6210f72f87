using ShopFloor.Domain.Glass;
using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>What the card of a hot glass piece says, computed for its thickness and temperature.</summary>
internal static class HotGlass
{
    /// <summary>The lines while the piece is in the heat or cools from it; none for anything that is no glass.</summary>
    internal static IReadOnlyList<string> Lines(Piece piece, WorkItem next, PieceDescription it, MaterialSheet material, decimal room) =>
        material.Class == MaterialClass.Glass && Celsius(piece, next) is { } hot
            ? Lines(material, (double)it.PressedThickness.Millimetres, hot, (double)room)
            : [];

    /// <summary>The lines for glass of that thickness at that temperature in a room of that temperature; none outside what can be computed.</summary>
    internal static IReadOnlyList<string> Lines(MaterialSheet material, double thicknessMm, double celsius, double room) =>
        CoolingCard.Lines(KindOf(material), thicknessMm, celsius, room) is { IsOk: true } card ? card.Value : [];

    // In the heat, or in the rest right after it.
    private static double? Celsius(Piece piece, WorkItem next)
    {
        if (next.Settings is { Celsius: { } now } && next.Kind is not Domain.Recipes.StepKind.Tape)
            return (double)now;
        var before = piece.Items.FirstOrDefault(i => i.Number == next.Number - 1);
        if (before is not { State: WorkState.Running, Settings.CoolToCelsius: not null })
            return null;
        var heat = piece.Items.LastOrDefault(i => i.Number < before.Number && i.Settings.Celsius is not null);
        return (double?)heat?.Settings.Celsius ?? Cooling.TouchCelsius;
    }

    private static GlassKind KindOf(MaterialSheet material) =>
        material.Key switch
        {
            "glass-t" => GlassKind.Toughened,
            "boro" => GlassKind.Borosilicate,
            // What nobody knows better is taken as the weakest.
            _ => GlassKind.Annealed,
        };
}
