namespace ShopFloor.Planning.Exchange;

/// <summary>Checks that every name in a day means something. Published steps may name what is gone.</summary>
internal static class DayNames
{
    public static void Check(Day day, JsonValue root, ProblemList problems)
    {
        var names = new Names(day);
        CheckBooths(day, root, problems, names);
        CheckPieces(day, root, problems, names);
        CheckRunning(day, root, problems, names);
    }

    private static void CheckBooths(Day day, JsonValue root, ProblemList problems, Names names)
    {
        for (var i = 0; i < day.Stations.Count; i++)
            if (day.Stations[i] is Booth booth)
                foreach (var oven in booth.SharesAirWith)
                    if (!names.Stations.TryGetValue(oven, out var station) || station.Kind != StationKind.Oven)
                        Add(root, problems, "stations", i, "shares_air_with", $"there is no oven {oven}");
    }

    private static void CheckPieces(Day day, JsonValue root, ProblemList problems, Names names)
    {
        for (var i = 0; i < day.Pieces.Count; i++)
        {
            var piece = day.Pieces[i];
            foreach (var other in piece.After)
                if (!names.Pieces.ContainsKey(other) || other == piece.Id)
                    Add(root, problems, "pieces", i, "after", $"there is no other piece {other}");
            foreach (var step in piece.Route)
                if (step.Kind == StepKind.Spray && !names.Coatings.Contains(step.Coating))
                    Add(root, problems, "pieces", i, "route", $"there is no coating {step.Coating}");
            foreach (var pin in piece.Pins)
                if (pin.Station is { } station && !names.Stations.ContainsKey(station))
                    Add(root, problems, "pieces", i, "pins", $"there is no station {station}");
                else if (pin.With is { } with && (!names.Pieces.ContainsKey(with) || with == piece.Id))
                    Add(root, problems, "pieces", i, "pins", $"there is no other piece {with}");
        }
    }

    private static void CheckRunning(Day day, JsonValue root, ProblemList problems, Names names)
    {
        var running = root.Fields.Find(f => f.Name == "running").Value;
        for (var i = 0; i < day.Running.Tasks.Count; i++)
            foreach (var (field, reason) in names.Wrong(day.Running.Tasks[i]))
                Add(running, problems, "running.tasks", i, field, reason);
        for (var i = 0; i < day.Running.Batches.Count; i++)
            foreach (var (field, reason) in names.Wrong(day.Running.Batches[i]))
                Add(running, problems, "running.batches", i, field, reason);
    }

    private static void Add(JsonValue parent, ProblemList problems, string list, int index, string field, string reason)
    {
        var items = parent.Fields.Find(f => f.Name == list[(list.LastIndexOf('.') + 1)..]).Value.Items;
        var at = items[index].Fields.Find(f => f.Name == field).Value?.Offset ?? items[index].Offset;
        problems.Add(at, string.Create(CultureInfo.InvariantCulture, $"{list}[{index}].{field}"), reason);
    }

    private sealed class Names(Day day)
    {
        private readonly HashSet<string> people = [.. day.People.Select(p => p.Id)];
        private readonly Dictionary<string, Batch> batches = day.Running.Batches.ToDictionary(b => b.Id, StringComparer.Ordinal);

        public Dictionary<string, Station> Stations { get; } = day.Stations.ToDictionary(s => s.Id, StringComparer.Ordinal);

        public Dictionary<string, Piece> Pieces { get; } = day.Pieces.ToDictionary(p => p.Id, StringComparer.Ordinal);

        public HashSet<string> Coatings { get; } = [.. day.Coatings.Select(c => c.Id)];

        public IEnumerable<(string Field, string Reason)> Wrong(PlanTask task)
        {
            var isStep = TaskKinds.StepOf(task.Kind) is not null;
            if (
                !isStep && task.Kind is not (TaskKinds.Shake or TaskKinds.Load or TaskKinds.Dwell or TaskKinds.Unload or TaskKinds.SetPoint)
            )
                yield return ("kind", $"there is no kind of task {task.Kind}");
            if (!Stations.ContainsKey(task.Station))
                yield return ("station", $"there is no station {task.Station}");
            if (task.Person is { } person && !people.Contains(person))
                yield return ("person", $"there is no person {person}");
            if (task.Piece is { } piece && WrongStep(piece, task.Step) is { } wrong)
                yield return ("piece", wrong);
            if (task.Piece is null && task.Step is not null)
                yield return ("step", "a step needs its piece");
            if (task.Batch is { } batch && !batches.ContainsKey(batch))
                yield return ("batch", $"there is no running batch {batch}");
        }

        public IEnumerable<(string Field, string Reason)> Wrong(Batch batch)
        {
            if (batch.Kind is not (BatchKinds.Round or BatchKinds.Load or BatchKinds.Session))
                yield return ("kind", $"there is no kind of batch {batch.Kind}");
            if (batch.Kind == BatchKinds.Round && !HasCan(batch))
                yield return ("can", $"there is no can {batch.Can} of {batch.Coating}");
            foreach (var place in batch.Places)
                if (WrongStep(place.Piece, place.Step) is { } wrong)
                    yield return ("places", wrong);
        }

        private bool HasCan(Batch batch) => day.Coatings.Any(c => c.Id == batch.Coating && c.Cans.Any(can => can.Id == batch.Can));

        private string? WrongStep(string id, int? step)
        {
            if (!Pieces.TryGetValue(id, out var piece))
                return $"there is no piece {id}";
            return step is not null && step >= 1 && step <= piece.Route.Count ? null : $"piece {id} has no step {step}";
        }
    }
}
