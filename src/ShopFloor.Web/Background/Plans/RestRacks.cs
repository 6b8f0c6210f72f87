using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// On which rack the pieces lie that rest now, which nobody writes down: where the published plan had them lie, while that has room for them;
/// else on the first that has; else on the roomiest, which is then too full.
/// </summary>
internal sealed class RestRacks
{
    private readonly List<Plan.Rack> racks;
    private readonly long[] room;

    private RestRacks(List<Plan.Rack> racks) => (this.racks, room) = (racks, [.. racks.Select(r => r.AreaUm2)]);

    /// <summary>The rack's code for each piece; empty where there is no rack.</summary>
    /// <param name="resting">Each piece with the rest that runs.</param>
    /// <param name="shop">The snapshot.</param>
    public static IReadOnlyDictionary<PieceId, string> Of(IReadOnlyList<(Piece Piece, WorkItem Step)> resting, ShopSnapshot shop)
    {
        var all = new RestRacks([.. shop.Stations.Select(s => DayStations.Of(s, shop, 0)).OfType<Plan.Rack>()]);
        var lies = new Dictionary<PieceId, string>();
        if (all.racks.Count == 0 || resting.Count == 0)
            return lies;
        var planned = all.racks.Count > 1 ? Planned(shop) : [];
        string? Said((Piece Piece, WorkItem Step) r) => planned.GetValueOrDefault((r.Piece.Code, r.Step.Number));
        foreach (var rest in resting.OrderBy(r => Said(r) is null))
            lies[rest.Piece.Id] = all.Lay(rest.Piece, Said(rest), shop);
        return lies;
    }

    private string Lay(Piece piece, string? said, ShopSnapshot shop)
    {
        var size = shop.Orders[piece.Order].AllLines.First(l => l.Id == piece.Line).Piece.Room;
        var (width, depth) = ((long)DayStations.Um(size.Width), (long)DayStations.Um(size.Depth));
        var areas = racks.ConvertAll(r => (width + r.GapUm) * (depth + r.GapUm));
        bool Fits(int r) => areas[r] <= room[r];
        var rack = racks.FindIndex(r => r.Id == said);
        if (rack < 0 || !Fits(rack))
            rack = Enumerable.Range(0, racks.Count).Where(Fits).DefaultIfEmpty(-1).First();
        if (rack < 0)
            rack = Enumerable.Range(0, racks.Count).MaxBy(r => room[r]);
        room[rack] -= areas[rack];
        return racks[rack].Id;
    }

    /// <summary>Where the published plan has each rest.</summary>
    private static Dictionary<(string, int), string> Planned(ShopSnapshot shop)
    {
        var said = new Dictionary<(string, int), string>();
        if (
            shop.Last is { } last
            && Plan.PlanReader.Read(System.Text.Encoding.UTF8.GetBytes(last.PlanJson), "published plan") is { IsOk: true } read
        )
            foreach (var task in read.Value!.Tasks)
                if (task is { Kind: Plan.TaskKinds.Rest, Piece: { } piece, Step: { } step })
                    said[(piece, step)] = task.Station;
        return said;
    }
}
