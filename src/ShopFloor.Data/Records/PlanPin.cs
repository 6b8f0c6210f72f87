using ShopFloor.Domain;

namespace ShopFloor.Data.Records;

/// <summary>A wish of the owner that the planner keeps, or says why it cannot.</summary>
public sealed class PlanPin
{
    private PlanPin() { }

    /// <summary>A pin on one step of one piece.</summary>
    public PlanPin(Guid id, PieceId piece, int step, string by)
    {
        (Id, Piece, Step, By) = (id, piece, step, by);
    }

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>Whose step.</summary>
    public PieceId Piece { get; private set; }

    /// <summary>Which, from 1.</summary>
    public int Step { get; private set; }

    /// <summary>Not before that instant, UTC.</summary>
    public DateTimeOffset? NotBefore { get; init; }

    /// <summary>At that instant, UTC.</summary>
    public DateTimeOffset? At { get; init; }

    /// <summary>Code of the station.</summary>
    public string? Station { get; init; }

    /// <summary>Code of the piece that shares its batch.</summary>
    public string? With { get; init; }

    /// <summary>Worker id.</summary>
    public string By { get; private set; } = "";
}
