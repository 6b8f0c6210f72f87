namespace ShopFloor.Domain.Stock;

/// <summary>One can.</summary>
public sealed class Can
{
    private Can() { }

    /// <summary>A can that came in, full.</summary>
    public Can(CanId id, CoatingId coating, string code, string lot, decimal ml, DateOnly? useBy, DateTimeOffset at)
    {
        (Id, Coating, Code, Lot, FullMl, LeftMl, UseBy, CameAt) = (id, coating, code, lot, ml, ml, useBy, at);
    }

    /// <summary>Names it.</summary>
    public CanId Id { get; private set; }

    /// <summary>What is in it.</summary>
    public CoatingId Coating { get; private set; }

    /// <summary>Number on its label.</summary>
    public string Code { get; private set; } = "";

    /// <summary>The maker's lot.</summary>
    public string Lot { get; private set; } = "";

    /// <summary>When full, ml.</summary>
    public decimal FullMl { get; private set; }

    /// <summary>What is left, ml, by use and weighing.</summary>
    public decimal LeftMl { get; private set; }

    /// <summary>Last day it may be used, shop-local.</summary>
    public DateOnly? UseBy { get; private set; }

    /// <summary>When it came in, UTC.</summary>
    public DateTimeOffset CameAt { get; private set; }

    /// <summary>When first used, UTC.</summary>
    public DateTimeOffset? OpenedAt { get; private set; }

    /// <summary>Why it must not be used; null: it may.</summary>
    public string? HeldBecause { get; private set; }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Takes from it; a can gives what it has and no more, so the last pull may be short.</summary>
    /// <returns>What was really taken, ml.</returns>
    public Result<decimal> Take(decimal ml, DateTimeOffset at)
    {
        if (HeldBecause is { } why)
            return new Refusal("can-held", $"Can {Code} is held: {why}", "can");
        if (ml <= 0)
            return new Refusal("amount", "Take more than 0 ml.", "ml");
        var taken = Math.Min(ml, LeftMl);
        LeftMl -= taken;
        OpenedAt ??= at;
        Version++;
        return taken;
    }

    /// <summary>Notes that it is in use, where what leaves it is not counted.</summary>
    public void Open(DateTimeOffset at)
    {
        if (OpenedAt is not null)
            return;
        OpenedAt = at;
        Version++;
    }

    /// <summary>Gives back what was taken by a move that is undone, as far as there is room for it; negative: takes it again.</summary>
    /// <returns>What really changed, ml.</returns>
    public decimal PutBack(decimal ml)
    {
        var before = LeftMl;
        LeftMl = ml > 0 ? Math.Max(LeftMl, Math.Min(FullMl, LeftMl + ml)) : Math.Max(0, LeftMl + ml);
        Version++;
        return LeftMl - before;
    }

    /// <summary>What a weighing found.</summary>
    /// <returns>The correction, ml.</returns>
    public Result<decimal> Weigh(decimal leftMl)
    {
        if (leftMl < 0 || leftMl > FullMl * 1.05m)
            return new Refusal(
                "amount",
                string.Create(CultureInfo.InvariantCulture, $"A {FullMl:0} ml can cannot hold {leftMl:0.#} ml."),
                "ml"
            );
        var change = leftMl - LeftMl;
        LeftMl = leftMl;
        Version++;
        return change;
    }

    /// <summary>Why it may not be sprayed from on a day; null: it may.</summary>
    /// <param name="today">Shop-local day.</param>
    public Refusal? Barred(DateOnly today) =>
        HeldBecause is { } why ? new Refusal("can-held", $"Can {Code} is held: {why}", "can")
        : UseBy < today ? new Refusal("can-expired", $"Can {Code} was to be used by {UseBy:yyyy-MM-dd}.", "can")
        : null;

    /// <summary>Why nothing can be sprayed from it on a day: it is barred, or nothing is left in it; null: it can.</summary>
    /// <param name="today">Shop-local day.</param>
    public Refusal? Unusable(DateOnly today) =>
        Barred(today) ?? (LeftMl > 0 ? null : new Refusal("can-empty", $"Can {Code} is empty by the books.", "can"));

    /// <summary>
    /// The can to take: of those that may be used and hold enough, the one whose last day comes first; of equal days the open one, then
    /// the one with the least left. Where none holds enough, the same among all that hold anything.
    /// </summary>
    /// <param name="cans">Cans of one coating.</param>
    /// <param name="ml">What is needed.</param>
    /// <param name="today">Shop-local day.</param>
    /// <param name="given">What of each is given out already and has not left it yet, ml; null: nothing.</param>
    public static Can? FirstExpiring(
        IEnumerable<Can> cans,
        decimal ml,
        DateOnly today,
        IReadOnlyDictionary<CanId, decimal>? given = null
    ) =>
        cans.Select(c => (Can: c, Left: c.LeftMl - (given?.GetValueOrDefault(c.Id) ?? 0)))
            .Where(c => c.Can.Unusable(today) is null && c.Left > 0)
            .OrderBy(c => c.Left < ml)
            .ThenBy(c => c.Can.UseBy ?? DateOnly.MaxValue)
            .ThenBy(c => c.Can.OpenedAt is null)
            .ThenBy(c => c.Left)
            .ThenBy(c => c.Can.Code, StringComparer.Ordinal)
            .Select(c => c.Can)
            .FirstOrDefault();

    /// <summary>Bars it from use, with the reason; null: free again.</summary>
    public void Hold(string? because)
    {
        HeldBecause = because;
        Version++;
    }
}
