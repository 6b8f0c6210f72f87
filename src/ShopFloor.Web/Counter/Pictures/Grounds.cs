using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>What lies under the ink, for pictures on screens.</summary>
public static class Grounds
{
    /// <summary>The look of a finish on a material; a shiny kind of grey where nobody knows it.</summary>
    /// <param name="finish">The finish.</param>
    /// <param name="material">The material.</param>
    /// <param name="coats">Coats that make the look, see <see cref="LookCoats"/>.</param>
    public static PrintLook LookOf(Finish finish, MaterialSheet material, int coats) => PrintLook.For(finish, Of(material), coats);

    /// <summary>
    /// Reflectance of the bare piece: published constants for metals and porcelain; the rest common practice, no source, a middle of what
    /// such pieces look like.
    /// </summary>
    public static LinearRgb Of(MaterialSheet material) =>
        GroundColours.ForMaterial(material.Key)
        ?? material.Class switch
        {
            MaterialClass.Metal => GroundColours.Nickel,
            MaterialClass.Glass => LinearRgb.Grey(0.75),
            MaterialClass.Ceramic => GroundColours.Porcelain,
            MaterialClass.Stone => LinearRgb.Grey(material.Key == "marble" ? 0.62 : 0.09),
            MaterialClass.Wood => new LinearRgb(0.45, 0.27, 0.13),
            MaterialClass.Leather => new LinearRgb(0.23, 0.11, 0.05),
            _ => LinearRgb.Grey(0.55),
        };

    /// <summary>The bare ground under that finish as a colour for drawings.</summary>
    public static string CssOf(Finish finish, MaterialSheet material, int coats)
    {
        var bare = LookOf(finish, material, coats).Reflectance(LinearRgb.White);
        return $"#{Srgb.EncodeByte(bare.R):x2}{Srgb.EncodeByte(bare.G):x2}{Srgb.EncodeByte(bare.B):x2}";
    }
}
