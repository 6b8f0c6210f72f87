namespace ShopFloor.Planning.DayPlans;

/// <summary>A load or session of a line-up. Immutable.</summary>
internal sealed class LineBatch
{
    /// <summary>A batch at one of the stations that can take its group.</summary>
    public LineBatch(Shop shop, Group group, int at)
    {
        (Group, At, Place) = (group, at, group.Places[at]);
        var (place, family, count) = (shop.Heated[Place], shop.Families[group.Family], group.Nodes.Length);
        IsLoad = place.Oven is not null;
        TenthsC = family.TenthsC;
        (DwellMin, DwellMax) = (group.DwellMin[at], group.DwellMax);
        if (place.Oven is { } oven)
            (InS, OutS) = (oven.LoadS + (count * oven.LoadEachS), oven.UnloadS + (count * oven.UnloadEachS));
        else
            InS = place.Press!.LayUpS + (count * place.Press.LayUpEachS) + DwellMin;
    }

    public Group Group { get; }

    public int At { get; }

    public int Place { get; }

    public bool IsLoad { get; }

    public int TenthsC { get; }

    public int DwellMin { get; }

    public int DwellMax { get; }

    /// <summary>Seconds of loading, or of the whole press session.</summary>
    public int InS { get; }

    /// <summary>Seconds of unloading.</summary>
    public int OutS { get; }
}
