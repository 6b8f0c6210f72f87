using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>Addresses of pictures of a draft.</summary>
public static class PictureAddress
{
    /// <summary>The picture as it is.</summary>
    public static string Of(Guid draft, PictureId picture, int side) =>
        string.Create(CultureInfo.InvariantCulture, $"counter/order/{draft:D}/pictures/{picture.Value:D}?side={side}");

    /// <summary>As it looks in a finish on a material.</summary>
    public static string Look(Guid draft, PictureId picture, int side, Finish finish, string material) =>
        $"{Of(draft, picture, side)}&finish={finish}&material={Uri.EscapeDataString(material)}";
}
