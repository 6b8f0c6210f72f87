using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

/// <summary>One step of one piece.</summary>
public sealed class WorkItem
{
    private WorkItem() { }

    internal WorkItem(PieceId piece, RecipeStep settings)
    {
        Piece = piece;
        Number = settings.Number;
        Settings = settings;
        Kind = settings.Kind;
    }

    /// <summary>Whose step.</summary>
    public PieceId Piece { get; private set; }

    /// <summary>Place in the route, from 1.</summary>
    public int Number { get; private set; }

    /// <summary>What is done.</summary>
    public StepKind Kind { get; private set; }

    /// <summary>The settings, fitted to this piece when it was booked.</summary>
    public RecipeStep Settings { get; private set; } = new(1, StepKind.Clean);

    /// <summary>Where it stands.</summary>
    public WorkState State { get; internal set; }

    /// <summary>When it began, UTC.</summary>
    public DateTimeOffset? StartedAt { get; internal set; }

    /// <summary>When it ended, UTC.</summary>
    public DateTimeOffset? FinishedAt { get; internal set; }

    /// <summary>The round, load or session it is or was part of.</summary>
    public BatchId? Batch { get; internal set; }

    /// <summary>Where it is or was done.</summary>
    public StationId? Station { get; internal set; }

    /// <summary>The can it was sprayed from.</summary>
    public CanId? Can { get; internal set; }

    /// <summary>What was read off at the end.</summary>
    public string? Measured { get; internal set; }

    /// <summary>Why it went on outside its window.</summary>
    public string? Decision { get; internal set; }

    /// <summary>True when nothing more is to be done.</summary>
    public bool IsClosed => State is WorkState.Done or WorkState.Skipped;

    internal void Reopen()
    {
        State = WorkState.Waiting;
        (StartedAt, FinishedAt, Batch, Station, Can, Measured, Decision) = (null, null, null, null, null, null, null);
    }

    internal void Replace(RecipeStep settings)
    {
        Settings = settings;
        Kind = settings.Kind;
        Reopen();
    }
}
