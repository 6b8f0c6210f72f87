namespace ShopFloor.Planning.Exchange;

/// <summary>The kinds of step in a route.</summary>
public enum StepKind
{
    /// <summary>Degrease and dry, at a bench.</summary>
    Clean,

    /// <summary>Cover what must stay bare, at a bench.</summary>
    Mask,

    /// <summary>Wipe with promoter, at a bench.</summary>
    Wipe,

    /// <summary>Spray one coat, in a booth.</summary>
    Spray,

    /// <summary>Flash off or cool, on a rack.</summary>
    Rest,

    /// <summary>Cure a coat, in an oven.</summary>
    Cure,

    /// <summary>Dry a damp piece, in an oven; never together with a cure.</summary>
    Dry,

    /// <summary>Tape the transfer on, at a bench.</summary>
    Tape,

    /// <summary>Press the transfer, in a press.</summary>
    Press,

    /// <summary>Look the piece over, at a bench.</summary>
    Inspect,

    /// <summary>Pack it, at a bench.</summary>
    Pack,
}

/// <summary>One step of a route. Which fields mean something depends on the kind; the others stay at their defaults.</summary>
/// <param name="Kind">What is done.</param>
public sealed record Step(StepKind Kind)
{
    /// <summary>Length in seconds of a bench step or a spray.</summary>
    public int LengthS { get; init; }

    /// <summary>Longest wait from this step's end to the piece's next step's start, in seconds; null: none.</summary>
    public int? MaxWaitS { get; init; }

    /// <summary>Tape: when the transfer is printed and dry.</summary>
    public int ReadyS { get; init; }

    /// <summary>Spray: the coating's id.</summary>
    public string Coating { get; init; } = "";

    /// <summary>Spray: what the piece needs, in µl.</summary>
    public int Ul { get; init; }

    /// <summary>Rest, cure, dry, press: shortest time in seconds.</summary>
    public int MinS { get; init; }

    /// <summary>Rest, cure, dry, press: longest time in seconds; null (rest only): open.</summary>
    public int? MaxS { get; init; }

    /// <summary>Cure, dry, press: true temperature in tenths of °C.</summary>
    public int TenthsC { get; init; }

    /// <summary>Cure, dry: heat that the piece takes up, in J.</summary>
    public int HeatJ { get; init; }

    /// <summary>Cure, dry: solvent that it gives off, in mg.</summary>
    public int VapourMg { get; init; }

    /// <summary>Press: the marked position of the pressure dial.</summary>
    public string Pressure { get; init; } = "";

    /// <summary>Press: how the stack is laid up.</summary>
    public string LayUp { get; init; } = "";

    /// <summary>The kind of station that does this step.</summary>
    public StationKind Station =>
        Kind switch
        {
            StepKind.Spray => StationKind.Booth,
            StepKind.Rest => StationKind.Rack,
            StepKind.Cure or StepKind.Dry => StationKind.Oven,
            StepKind.Press => StationKind.Press,
            _ => StationKind.Bench,
        };
}
