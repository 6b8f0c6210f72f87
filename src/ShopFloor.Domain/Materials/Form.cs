namespace ShopFloor.Domain.Materials;

/// <summary>How the piece stands in space, which decides the press it needs.</summary>
public enum Form
{
    /// <summary>Lies flat under a flat press.</summary>
    Flat,

    /// <summary>Slightly curved: a test piece first.</summary>
    SlightlyCurved,

    /// <summary>A mantle: only with a wrap press.</summary>
    Cylinder,
}

/// <summary>Outline of the face to be decorated.</summary>
public enum FaceShape
{
    /// <summary>Width × height.</summary>
    Rectangle,

    /// <summary>Width × height with a corner radius.</summary>
    RoundedRectangle,

    /// <summary>A circle; width is the diameter.</summary>
    Disc,

    /// <summary>A circle with a hole.</summary>
    Ring,

    /// <summary>Width × height are the two axes.</summary>
    Ellipse,

    /// <summary>Any outline: bounding box plus an area that a person enters.</summary>
    Free,
}
