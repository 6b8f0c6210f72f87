namespace ShopFloor.Web.Shared.Controls;

/// <summary>How much a button asks to be pressed.</summary>
public enum ButtonKind
{
    /// <summary>The one thing to do here.</summary>
    Primary,

    /// <summary>Another thing to do here.</summary>
    Plain,

    /// <summary>A thing beside the work: back, cancel, details.</summary>
    Quiet,

    /// <summary>Something that cannot be taken back.</summary>
    Danger,
}

/// <summary>How large a button is.</summary>
public enum ButtonSize
{
    /// <summary>48 px: fingers.</summary>
    Touch,

    /// <summary>96 px: gloves.</summary>
    Bench,

    /// <summary>40 px: a mouse, in the Office only.</summary>
    Desk,
}
