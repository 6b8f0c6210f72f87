namespace ShopFloor.Web.Shared.Look;

/// <summary>How a state wants to be seen. The word beside it says what it is.</summary>
public enum StatusKind
{
    /// <summary>Nothing to do now: a dash.</summary>
    Waiting,

    /// <summary>Somebody may begin: a ring.</summary>
    Ready,

    /// <summary>Going on: a pointer.</summary>
    Running,

    /// <summary>Finished well: a square.</summary>
    Done,

    /// <summary>Needs a look soon: a triangle.</summary>
    Attention,

    /// <summary>Needs a person now, or ended badly: an octagon.</summary>
    Trouble,
}
