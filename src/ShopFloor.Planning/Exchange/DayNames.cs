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
                for (var k = 0; k < booth.SharesAirWith.Count; k++)
                    if (!names.Stations.TryGetValue(booth.SharesAirWith[k], out var station) || station.Kind != StationKind.Oven)
                        Add(root, problems, $"there is no oven {booth.SharesAirWith[k]}", "stations", i, "shares_air_with", k);
    }

    private static void CheckPieces(Day day, JsonValue root, ProblemList problems, Names names)
    {
        for (var i = 0; i < day.Pieces.Count; i++)
        {
            var piece = day.Pieces[i];
            for (var k = 0; k < piece.After.Count; k++)
                if (!names.Pieces.ContainsKey(piece.After[k]) || piece.After[k] == piece.Id)
                    Add(root, problems, $"there is no other piece {piece.After[k]}", "pieces", i, "after", k);
            for (var k = 0; k < piece.Route.Count; k++)
                if (piece.Route[k] is { Kind: StepKind.Spray, Coating: var coating } && !names.Coatings.Contains(coating))
                    Add(root, problems, $"there is no coating {coating}", "pieces", i, "route", k, "coating");
            for (var k = 0; k < piece.Pins.Count; k++)
                if (piece.Pins[k].Station is { } station && !names.Stations.ContainsKey(station))
                    Add(root, problems, $"there is no station {station}", "pieces", i, "pins", k, "station");
                else if (piece.Pins[k].With is { } with && (!names.Pieces.ContainsKey(with) || with == piece.Id))
                    Add(root, problems, $"there is no other piece {with}", "pieces", i, "pins", k, "with");
        }
    }

    private static void CheckRunning(Day day, JsonValue root, ProblemList problems, Names names)
    {
        for (var i = 0; i < day.Running.Tasks.Count; i++)
            foreach (var (field, reason) in names.Wrong(day.Running.Tasks[i]))
                Add(root, problems, reason, "running", "tasks", i, field);
        for (var i = 0; i < day.Running.Batches.Count; i++)
        {
            var batch = day.Running.Batches[i];
            foreach (var (field, reason) in names.Wrong(batch))
                Add(root, problems, reason, "running", "batches", i, field);
            if (RunningWhole.Wrong(batch, day.Running.Tasks) is var (lacking, why))
                Add(root, problems, why, "running", "batches", i, lacking);
            for (var k = 0; k < batch.Places.Count; k++)
                if (
                    batch.Places[k] is var place
                    && (
                        names.WrongStep(place.Piece, place.Step)
                        ?? names.WrongShelf(batch, place)
                        ?? names.TooEarly(place.Piece, place.Step)
                    )
                        is var (field, reason)
                )
                    Add(root, problems, reason, "running", "batches", i, "places", k, field);
        }
    }

    /// <summary>Names of fields and positions in lists lead to the place; where it is missing, to what it is missing from.</summary>
    private static void Add(JsonValue root, ProblemList problems, string reason, params ReadOnlySpan<object> way)
    {
        var (at, path) = (root, "");
        foreach (var step in way)
            if (step is int index)
                (at, path) = (at.Items[index], string.Create(CultureInfo.InvariantCulture, $"{path}[{index}]"));
            else
                (at, path) = (at.Fields.Find(f => f.Name.Equals(step)).Value ?? at, path.Length == 0 ? $"{step}" : $"{path}.{step}");
        problems.Add(at.Offset, path, reason);
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
            if (task.Piece is { } piece && (WrongStep(piece, task.Step) ?? TooEarly(piece, task.Step!.Value)) is { } wrong)
                yield return wrong;
            if (task.Piece is null && task.Step is not null)
                yield return ("step", "a step needs its piece");
            if (task.Batch is { } batch && !batches.ContainsKey(batch))
                yield return ("batch", $"there is no running batch {batch}");
            var (at, of) = (Stations.GetValueOrDefault(task.Station), batches.GetValueOrDefault(task.Batch ?? ""));
            foreach (var wrongly in RunningWhole.Wrong(task, at, of))
                yield return wrongly;
        }

        public IEnumerable<(string Field, string Reason)> Wrong(Batch batch)
        {
            if (batch.Kind is not (BatchKinds.Round or BatchKinds.Load or BatchKinds.Session))
                yield return ("kind", $"there is no kind of batch {batch.Kind}");
            if (batch.Kind == BatchKinds.Round && !HasCan(batch))
                yield return ("can", $"there is no can {batch.Can} of {batch.Coating}");
        }

        private bool HasCan(Batch batch) => day.Coatings.Any(c => c.Id == batch.Coating && c.Cans.Any(can => can.Id == batch.Can));

        /// <summary>Shelves count from 1, in the oven where the load is.</summary>
        public (string Field, string Reason)? WrongShelf(Batch batch, Place place)
        {
            if (place.Shelf is not { } shelf)
                return null;
            var at = day.Running.Tasks.Where(t => t.Batch == batch.Id).Select(t => Stations.GetValueOrDefault(t.Station)).FirstOrDefault();
            return at is not Oven oven || (shelf >= 1 && shelf <= oven.Shelves.Count) ? null : ("shelf", $"{oven.Id} has no shelf {shelf}");
        }

        public (string Field, string Reason)? WrongStep(string id, int? step)
        {
            if (!Pieces.TryGetValue(id, out var piece))
                return ("piece", $"there is no piece {id}");
            return step is not null && step >= 1 && step <= piece.Route.Count ? null : ("step", $"piece {id} has no step {step}");
        }

        /// <summary>Nothing runs before what comes before it. The rest before a step is over when the step begins, and need not be counted yet.</summary>
        public (string Field, string Reason)? TooEarly(string id, int step)
        {
            var piece = Pieces[id];
            var open = piece.Route.Take(step - 1).Skip(piece.Done).ToList().FindIndex(s => s.Kind != StepKind.Rest);
            return open < 0 ? null : ("step", $"step {step} of piece {id} cannot run: step {piece.Done + open + 1} is still to be done");
        }
    }
}
