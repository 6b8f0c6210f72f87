namespace ShopFloor.Planning.Exchange;

/// <summary>The five kinds of station.</summary>
public enum StationKind
{
    /// <summary>Where a person cleans, wipes, masks, tapes, inspects and packs.</summary>
    Bench,

    /// <summary>Where one person sprays from one can at a time.</summary>
    Booth,

    /// <summary>Where pieces flash off and cool.</summary>
    Rack,

    /// <summary>Where coats cure and damp pieces dry.</summary>
    Oven,

    /// <summary>Where transfers are pressed.</summary>
    Press,
}

/// <summary>A place of work.</summary>
/// <param name="Id">The station's id.</param>
/// <param name="Down">When it cannot be used; sorted, disjoint, never touching.</param>
public abstract record Station(string Id, IReadOnlyList<Span> Down)
{
    /// <summary>Which kind it is.</summary>
    public abstract StationKind Kind { get; }
}

/// <summary>A bench.</summary>
/// <param name="Id">The station's id.</param>
/// <param name="Down">When it cannot be used.</param>
/// <param name="Places">How many tasks it holds at once; null: no limit.</param>
public sealed record Bench(string Id, IReadOnlyList<Span> Down, int? Places) : Station(Id, Down)
{
    /// <inheritdoc/>
    public override StationKind Kind => StationKind.Bench;
}

/// <summary>A spray booth.</summary>
/// <param name="Id">The station's id.</param>
/// <param name="Down">When it cannot be used.</param>
/// <param name="SharesAirWith">Ovens that must not be hot while somebody shakes or sprays here.</param>
public sealed record Booth(string Id, IReadOnlyList<Span> Down, IReadOnlyList<string> SharesAirWith) : Station(Id, Down)
{
    /// <inheritdoc/>
    public override StationKind Kind => StationKind.Booth;
}

/// <summary>A rack.</summary>
/// <param name="Id">The station's id.</param>
/// <param name="Down">When it cannot be used.</param>
/// <param name="AreaUm2">Its area in µm².</param>
/// <param name="GapUm">What is added to width and depth of each piece on it, in µm.</param>
public sealed record Rack(string Id, IReadOnlyList<Span> Down, long AreaUm2, int GapUm) : Station(Id, Down)
{
    /// <inheritdoc/>
    public override StationKind Kind => StationKind.Rack;
}

/// <summary>What an oven and a press have in common: a set point that takes time to change.</summary>
/// <param name="LowestTenthsC">Lowest dial position, tenths of °C.</param>
/// <param name="HighestTenthsC">Highest dial position, tenths of °C.</param>
/// <param name="ErrorTenthsC">What the dial shows minus what is true, tenths of °C.</param>
/// <param name="NowTenthsC">The set point at second 0, tenths of °C.</param>
/// <param name="HeatingMilliCPerMin">Rise in thousandths of °C per minute; above 0.</param>
/// <param name="CoolingMilliCPerMin">Fall in thousandths of °C per minute; above 0.</param>
public sealed record Heat(
    int LowestTenthsC,
    int HighestTenthsC,
    int ErrorTenthsC,
    int NowTenthsC,
    int HeatingMilliCPerMin,
    int CoolingMilliCPerMin
);

/// <summary>One shelf of an oven.</summary>
/// <param name="WidthUm">Width in µm.</param>
/// <param name="DepthUm">Depth in µm.</param>
/// <param name="ClearUm">Clear height in µm.</param>
public sealed record Shelf(int WidthUm, int DepthUm, int ClearUm);

/// <summary>An oven or a press.</summary>
/// <param name="Id">The station's id.</param>
/// <param name="Down">When it cannot be used.</param>
/// <param name="Heat">Its temperatures and rates.</param>
/// <param name="MarginUm">Distance kept from every edge, in µm.</param>
/// <param name="GapUm">Distance kept between pieces, in µm.</param>
public abstract record HeatedStation(string Id, IReadOnlyList<Span> Down, Heat Heat, int MarginUm, int GapUm) : Station(Id, Down);

/// <summary>An oven.</summary>
/// <param name="Id">The station's id.</param>
/// <param name="Down">When it cannot be used.</param>
/// <param name="Heat">Its temperatures and rates.</param>
/// <param name="MarginUm">Distance kept from the shelf's edges, in µm.</param>
/// <param name="GapUm">Distance kept between pieces, in µm.</param>
/// <param name="Shelves">Its shelves, counted from 1.</param>
/// <param name="LoadS">Loading takes this many seconds …</param>
/// <param name="LoadEachS">… plus this many per piece.</param>
/// <param name="UnloadS">Unloading takes this many seconds …</param>
/// <param name="UnloadEachS">… plus this many per piece.</param>
/// <param name="HeaterW">Power of the heater in W; null: unlimited.</param>
/// <param name="VapourLimitMg">Solvent allowed in one load, in mg; null: rule off.</param>
/// <param name="HotAboveTenthsC">Above this set point it counts as hot, tenths of °C.</param>
public sealed record Oven(
    string Id,
    IReadOnlyList<Span> Down,
    Heat Heat,
    int MarginUm,
    int GapUm,
    IReadOnlyList<Shelf> Shelves,
    int LoadS,
    int LoadEachS,
    int UnloadS,
    int UnloadEachS,
    int? HeaterW,
    int? VapourLimitMg,
    int HotAboveTenthsC
) : HeatedStation(Id, Down, Heat, MarginUm, GapUm)
{
    /// <inheritdoc/>
    public override StationKind Kind => StationKind.Oven;
}

/// <summary>A heat press.</summary>
/// <param name="Id">The station's id.</param>
/// <param name="Down">When it cannot be used.</param>
/// <param name="Heat">Its temperatures and rates.</param>
/// <param name="MarginUm">Distance kept from the platen's edges, in µm.</param>
/// <param name="GapUm">Distance kept between pieces, in µm.</param>
/// <param name="WidthUm">Width of the platen in µm.</param>
/// <param name="DepthUm">Depth of the platen in µm.</param>
/// <param name="ThickestUm">Greatest thickness of a piece, in µm.</param>
/// <param name="ThicknessToleranceUm">How much thicknesses in one session may differ, in µm.</param>
/// <param name="LayUpS">Laying up takes this many seconds …</param>
/// <param name="LayUpEachS">… plus this many per piece.</param>
public sealed record Press(
    string Id,
    IReadOnlyList<Span> Down,
    Heat Heat,
    int MarginUm,
    int GapUm,
    int WidthUm,
    int DepthUm,
    int ThickestUm,
    int ThicknessToleranceUm,
    int LayUpS,
    int LayUpEachS
) : HeatedStation(Id, Down, Heat, MarginUm, GapUm)
{
    /// <inheritdoc/>
    public override StationKind Kind => StationKind.Press;

    /// <summary>For a wrap press, the least diameter that it takes, in µm: it takes round pieces alone. Null: a flat press, which takes none.</summary>
    public int? WrapsFromUm { get; init; }

    /// <summary>Whether a piece of this form can go in at all.</summary>
    public bool Suits(Piece piece) => WrapsFromUm is { } least ? piece.Round && piece.WidthUm >= least : !piece.Round;
}
