using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Which bench is free for a task: the one that it is pinned to, else the first with a free place.</summary>
internal sealed class BenchPlaces
{
    private readonly Shop shop;
    private readonly Line[][] places;

    /// <summary>Benches on which some tasks have their places.</summary>
    public BenchPlaces(Shop shop, List<PlanTask> tasks)
    {
        this.shop = shop;
        places = [.. shop.Benches.Select(b => Enumerable.Range(0, b.Places ?? shop.People.Length).Select(_ => new Line()).ToArray())];
        for (var b = 0; b < places.Length; b++)
            foreach (var line in places[b])
            foreach (var down in shop.Benches[b].Down)
                line.Block(down.FromS, down.ToS);
        foreach (var task in tasks)
            if (Array.FindIndex(shop.Benches, b => b.Id == task.Station) is var at and >= 0)
                Array.Find(places[at], line => line.IsFree(task.StartS, task.EndS!.Value))?.Block(task.StartS, task.EndS!.Value);
    }

    /// <summary>Takes a place for a step; null when none is free.</summary>
    public string? For(Node node, int from, int to)
    {
        var published = Array.FindIndex(shop.Benches, b => b.Id == shop.Published[node.Index].Station);
        foreach (var b in new[] { node.PinnedStation, published }.Concat(Enumerable.Range(0, places.Length)))
            if (b >= 0 && Array.Find(places[b], line => line.IsFree(from, to)) is { } free)
            {
                free.Block(from, to);
                return shop.Benches[b].Id;
            }
        return null;
    }
}
