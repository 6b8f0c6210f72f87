using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Finds the pieces that no plan of this day can finish, each with its reason, before the search begins.</summary>
internal sealed class Feasibility(Shop shop, GroupMaker maker)
{
    /// <summary>For each piece why it cannot be planned, or null.</summary>
    public LeftOut?[] Find()
    {
        var left = new LeftOut?[shop.Pieces.Length];
        for (var p = 0; p < left.Length; p++)
            left[p] = Reason(p) is var (reason, text) ? new LeftOut(shop.Pieces[p].Id, reason, text) : null;
        FindCircles(left);
        Spread(shop, left);
        return left;
    }

    /// <summary>What waits for a piece that is left out is left out too.</summary>
    public static void Spread(Shop shop, LeftOut?[] left)
    {
        for (var again = true; again; )
        {
            again = false;
            for (var p = 0; p < left.Length; p++)
            {
                if (left[p] is not null || shop.FirstNode[p] < 0)
                    continue;
                var missing = Array.Find(shop.After[p], a => left[a] is not null);
                if (!shop.After[p].Contains(missing) || left[missing] is null)
                    continue;
                left[p] = Waits(shop, p, missing);
                again = true;
            }
        }
    }

    private static LeftOut Waits(Shop shop, int p, int other) =>
        new(shop.Pieces[p].Id, "waits for piece", $"It comes after {shop.Pieces[other].Id}, which is left out.");

    private void FindCircles(LeftOut?[] left)
    {
        var state = new int[left.Length];
        for (var p = 0; p < left.Length; p++)
            Visit(p);

        void Visit(int p)
        {
            if (state[p] != 0)
                return;
            state[p] = 1;
            foreach (var other in shop.After[p])
            {
                Visit(other);
                if (state[other] == 1)
                    left[p] ??= new LeftOut(
                        shop.Pieces[p].Id,
                        "waits for piece",
                        $"It waits for {shop.Pieces[other].Id}, which waits for it."
                    );
            }
            state[p] = 2;
        }
    }

    /// <summary>Why a piece cannot be planned whatever else is done, or null.</summary>
    public (string Reason, string Text)? Reason(int p)
    {
        for (var n = shop.FirstNode[p]; n >= 0; n = shop.Nodes[n].Next)
        {
            var node = shop.Nodes[n];
            if (node.MaxLag < 0)
                return ("no window", Broken(node));
            if (node.MinLag > node.MaxLag)
                return ("no window", $"The rest before step {node.StepNumber} must end before it has lasted as long as it must.");
            var reason =
                node.IsHeated ? Heated(node)
                : node.IsSpray ? Spray(node)
                : Bench(node);
            reason ??= node.RestStep > 0 || node.RestAfter ? Rack(node) : null;
            if (reason is not null)
                return reason;
        }
        return null;
    }

    private static string Broken(Node node) =>
        node.RestStep > 0
            ? $"The rest before step {node.StepNumber} began before the plan and is not among the running tasks."
            : $"The rest before step {node.StepNumber} ended before the plan begins, and the step should have begun just then.";

    private bool Nobody(StationKind kind) => shop.PeopleFor[(int)kind].Length == 0;

    private (string, string)? Bench(Node node) =>
        shop.Benches.Length == 0 || Nobody(StationKind.Bench)
            ? ("no station", $"Step {node.StepNumber} needs a bench and somebody who works there.")
            : null;

    private (string, string)? Spray(Node node)
    {
        if (shop.Booths.Length == 0 || Nobody(StationKind.Booth))
            return ("no station", $"Step {node.StepNumber} needs a booth and somebody who works there.");
        var fullest = Array
            .FindAll(shop.Cans[node.Coating], c => (c.UseByS ?? Line.Never) > node.Length)
            .Select(c => c.LeftUl)
            .DefaultIfEmpty()
            .Max();
        return fullest >= node.Step.Ul
            ? null
            : (LeftOut.NoCoating, Shortage.NoCan(node.Step.Coating!, node.StepNumber, node.Step.Ul, fullest));
    }

    private (string, string)? Rack(Node node)
    {
        if (shop.Racks.Length == 0)
            return ("no station", $"The rest near step {node.StepNumber} needs a rack.");
        return Enumerable.Range(0, shop.Racks.Length).Any(r => shop.RackArea(r, node.Piece) <= shop.Racks[r].AreaUm2)
            ? null
            : ("too large", "It is larger than every rack.");
    }

    private (string, string)? Heated(Node node)
    {
        if (maker.FitsAlone(node.Index))
            return Nobody(node.Step.Station) ? ("no station", $"Nobody works at the station that step {node.StepNumber} needs.") : null;
        var family = shop.Families[node.Family];
        var word = family.IsLoad ? "oven" : "press";
        if (!Array.Exists(shop.Heated, h => h.IsOven == family.IsLoad && h.Reaches(family.TenthsC)))
            return (
                "no station",
                FormattableString.Invariant($"No {word} reaches the {family.TenthsC / 10m} °C of step {node.StepNumber}.")
            );
        if (!family.IsLoad && !Array.Exists(shop.Heated, h => h.Press?.Suits(shop.Pieces[node.Piece]) == true))
            return ("no station", $"No press takes a piece of the form that step {node.StepNumber} presses.");
        if (!family.IsLoad && !Array.Exists(shop.Heated, h => h.Press?.Suits(shop.Pieces[node.Piece]) == true && h.Reaches(family.TenthsC)))
            return (
                "no station",
                FormattableString.Invariant($"No press for its form reaches the {family.TenthsC / 10m} °C of step {node.StepNumber}.")
            );
        if (!maker.LiesSomewhere(node.Index) || !family.IsLoad)
            return ("too large", $"It is too large or too thick for every {word} that step {node.StepNumber} could use.");
        return ("no window", $"No oven brings the heat, or takes the vapour, of step {node.StepNumber} within its longest time.");
    }
}
