namespace ShopFloor.Domain.Recipes;

/// <summary>What the customer chooses: how the picture sits on the piece.</summary>
public enum Finish
{
    /// <summary>Clear coat on the bare ground: the metal gleams through, no white exists.</summary>
    ShowThrough,

    /// <summary>Opaque white base under clear: colours as on paper, the ground is hidden.</summary>
    WhiteGround,

    /// <summary>Matt coats: silky, each further coat more matt.</summary>
    VelvetMatt,

    /// <summary>Clear and translucent white on the back of glass: the picture is read through the glass.</summary>
    BehindGlass,
}

/// <summary>The finishes in the trade's words.</summary>
public static class FinishWords
{
    /// <summary>The finish as people say it, e.g. <c>Show-through</c>.</summary>
    public static string Words(this Finish finish) =>
        finish switch
        {
            Finish.ShowThrough => "Show-through",
            Finish.WhiteGround => "White ground",
            Finish.VelvetMatt => "Velvet matt",
            Finish.BehindGlass => "Behind glass",
            _ => throw new ArgumentOutOfRangeException(nameof(finish), finish, "No such finish."),
        };
}

/// <summary>The one mirror rule, from which every sheet, preview and card follows.</summary>
public static class MirrorRule
{
    /// <summary>
    /// A transfer lies face down, so the coat gets the mirror image of the print. Looked at from the coated face: print mirrored.
    /// Glass is looked at from the other face, which mirrors once more: print straight.
    /// </summary>
    public static bool PrintIsMirrored(this Finish finish) => finish != Finish.BehindGlass;
}
