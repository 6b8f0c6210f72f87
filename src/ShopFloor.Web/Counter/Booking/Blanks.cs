using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>Which stock blank a described piece is.</summary>
public static class Blanks
{
    /// <summary>The blank of the same material, shape and size, of several the one that was chosen; null: the workshop keeps none.</summary>
    public static StockItem? Fitting(IEnumerable<StockItem> items, PieceDescription piece)
    {
        var fitting = items.Where(i => Description(i.BlankJson) is { } blank && Fits(blank, piece)).ToList();
        return fitting.Find(i => i.Code == piece.Blank) ?? fitting.FirstOrDefault();
    }

    /// <summary>What a blank is; null for other stock.</summary>
    public static PieceDescription? Description(string blankJson) =>
        blankJson.Length == 0 ? null : JsonSerializer.Deserialize<PieceDescription>(blankJson, JsonForms.Default);

    /// <summary>What a blank is called in other languages, by their two letters.</summary>
    public static IReadOnlyDictionary<string, string> Names(string blankJson) =>
        (blankJson.Length == 0 ? null : JsonSerializer.Deserialize<Named>(blankJson, JsonForms.Default)?.Names)
        ?? new Dictionary<string, string>();

    /// <summary>A blank with its names in other languages, as it is kept.</summary>
    public static string Json(PieceDescription piece, IReadOnlyDictionary<string, string> names)
    {
        var node = JsonSerializer.SerializeToNode(piece, JsonForms.Default)!.AsObject();
        if (names.Count > 0)
            node["names"] = JsonSerializer.SerializeToNode(names, JsonForms.Default);
        return node.ToJsonString(JsonForms.Default);
    }

    // Kept beside the description in the same JSON.
    private sealed record Named(IReadOnlyDictionary<string, string>? Names);

    private static bool Fits(PieceDescription blank, PieceDescription piece) =>
        blank.Material == piece.Material
        && blank.Face == piece.Face
        && blank.Width == piece.Width
        && blank.BoxHeight == piece.BoxHeight
        && blank.Thickness == piece.Thickness;
}
