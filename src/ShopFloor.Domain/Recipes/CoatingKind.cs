namespace ShopFloor.Domain.Recipes;

/// <summary>The five coatings of the trade.</summary>
public enum CoatingKind
{
    /// <summary>Wiped on first so that the coat holds; not sprayed.</summary>
    Promoter,

    /// <summary>Opaque white ground.</summary>
    WhiteBase,

    /// <summary>Clear transfer coat that takes the ink.</summary>
    Clear,

    /// <summary>Transfer coat with a silky surface.</summary>
    Matt,

    /// <summary>Translucent white behind glass.</summary>
    Translucent,
}
