namespace ShopFloor.Domain.Pieces;

/// <summary>What an inspection saw and, where the owner wants it, measured.</summary>
public sealed record Findings
{
    /// <summary>Keys of faults in <see cref="FaultList"/>; empty when nothing is wrong.</summary>
    public IReadOnlyList<string> Seen { get; init; } = [];

    /// <summary>Cross-cut adhesion class after ISO 2409, 0 (nothing came off) to 5; null: not tested.</summary>
    public int? CrossCutClass { get; init; }

    /// <summary>Gloss in gloss units (ISO 2813); null: not measured.</summary>
    public decimal? GlossUnits { get; init; }

    /// <summary>Angle of the gloss meter, degrees: 20, 60 or 85 (ISO 2813).</summary>
    public int? GlossDegrees { get; init; }

    /// <summary>In the person's words; may be empty.</summary>
    public string Note { get; init; } = "";

    /// <summary>A photo of what was seen.</summary>
    public PictureId? Photo { get; init; }

    /// <summary>What is wrong with the entries, beside their fields; empty when sound.</summary>
    public IReadOnlyList<Refusal> Faults()
    {
        var wrong = new List<Refusal>();
        if (Seen.Any(key => FaultList.Find(key) is null))
            wrong.Add(new Refusal("fault-unknown", "Choose faults from the list.", "faults"));
        if (CrossCutClass is < 0 or > 5)
            wrong.Add(new Refusal("out-of-range", "The cross-cut class is a whole number from 0 to 5.", "crossCut"));
        if (GlossUnits is < 0 or > 2000)
            wrong.Add(new Refusal("out-of-range", "Gloss is from 0 to 2,000 gloss units.", "gloss"));
        if (GlossUnits is not null && GlossDegrees is not (20 or 60 or 85))
            wrong.Add(new Refusal("out-of-range", "Say at which angle the gloss was measured: 20, 60 or 85 degrees.", "glossDegrees"));
        if (Note.Length > 500)
            wrong.Add(new Refusal("note-long", "Say it in at most 500 characters.", "note"));
        return wrong;
    }

    /// <summary>In a few words, for the step's reading.</summary>
    public string InWords()
    {
        var words = new List<string> { Seen.Count == 0 ? "no fault" : string.Join(", ", Seen.Select(k => FaultList.Find(k)?.Name ?? k)) };
        if (CrossCutClass is { } cut)
            words.Add(string.Create(CultureInfo.InvariantCulture, $"cross-cut {cut}"));
        if (GlossUnits is { } gloss)
            words.Add(string.Create(CultureInfo.InvariantCulture, $"{gloss:0.#} GU at {GlossDegrees}°"));
        return string.Join("; ", words);
    }
}

/// <summary>The classes of the cross-cut test: a lattice of cuts is taped over and the share of the coat that came off is judged.</summary>
public static class CrossCut
{
    /// <summary>
    /// Largest share of the lattice that may have come off in each class, %, inclusive: class 0 to class 5. ISO 2409, table of classes,
    /// as quoted by makers of test instruments (class 0: none; 1: to 5; 2: to 15; 3: to 35; 4: to 65; 5: more).
    /// </summary>
    public static IReadOnlyList<int> MostPercentOff { get; } = [0, 5, 15, 35, 65, 100];
}
