namespace ShopFloor.Domain.Pieces;

/// <summary>
/// States by what is still to be done. They are lists, so that a database looks them up in its index: asked what a piece is not, it reads every piece
/// there ever was.
/// </summary>
public static class OpenStates
{
    /// <summary>Not at its end.</summary>
    public static readonly IReadOnlyList<PieceState> Open = [.. Enum.GetValues<PieceState>().Where(s => !s.IsEnd())];

    /// <summary>Open, and not checked good yet.</summary>
    public static readonly IReadOnlyList<PieceState> Unfinished = [.. Open.Where(s => !s.IsGood())];

    /// <summary>What may be worked on: here, and nobody has to decide about it.</summary>
    public static readonly IReadOnlyList<PieceState> Workable = [.. Open.Where(s => s.IsUp())];
}
