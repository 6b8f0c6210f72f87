namespace ShopFloor.Domain.Colour;

/// <summary>
/// Colours of bare grounds under clear film of refractive index 1.5, computed from published optical constants (Cheng 2016 aluminium;
/// Johnson and Christy 1972 copper, 1974 iron and nickel; Querry 1985 brass 70/30; Karlsson and Ribbing 1982 austenitic stainless) under
/// D65. A table.
/// </summary>
public static class GroundColours
{
    /// <summary>Aluminium.</summary>
    public static LinearRgb Aluminium { get; } = new Lab(95.54, -0.35, -0.35).ToLinearRgb();

    /// <summary>Copper.</summary>
    public static LinearRgb Copper { get; } = new Lab(82.35, 15.19, 15.98).ToLinearRgb();

    /// <summary>Brass 70/30.</summary>
    public static LinearRgb Brass { get; } = new Lab(88.32, -2.14, 32.29).ToLinearRgb();

    /// <summary>Austenitic stainless steel.</summary>
    public static LinearRgb Stainless { get; } = new Lab(78.47, 0.58, 3.74).ToLinearRgb();

    /// <summary>Iron and mild steel.</summary>
    public static LinearRgb Iron { get; } = new Lab(69.20, 0.61, 1.96).ToLinearRgb();

    /// <summary>Nickel.</summary>
    public static LinearRgb Nickel { get; } = new Lab(78.87, 1.11, 7.86).ToLinearRgb();

    /// <summary>White porcelain, linear .745 .745 .723 (physicallybased.info, CC0 measurements).</summary>
    public static LinearRgb Porcelain { get; } = new(0.745, 0.745, 0.723);

    /// <summary>
    /// The ground of a shipped material by its key, or null when it has no colour of its own in the table: then a person picks one from the
    /// photograph of the piece.
    /// </summary>
    public static LinearRgb? ForMaterial(string key) =>
        key switch
        {
            "al" or "al-ano" => Aluminium,
            "cu" => Copper,
            "brass" => Brass,
            "ss" => Stainless,
            "steel" => Iron,
            // Zinc and tin are grey metals near nickel's lightness: common practice, no source.
            "galv" or "zn" or "sn" => Nickel,
            "tile" or "earthen" => Porcelain,
            _ => null,
        };
}
