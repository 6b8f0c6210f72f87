using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Checking;

/// <summary>A day with a plan of which one thing is changed at a time.</summary>
internal sealed record Changed(ShopFloor.Planning.Exchange.Day Day, Plan Plan)
{
    public IEnumerable<PlanTask> Of(params string[] kinds) => Plan.Tasks.Where(t => kinds.Contains(t.Kind));

    /// <summary>Tasks by hand at a bench.</summary>
    public IEnumerable<PlanTask> Bench() => Plan.Tasks.Where(t => t is { Piece: not null, Batch: null } && t.Kind != TaskKinds.Rest);

    public Piece Piece(string id) => Day.Pieces.First(p => p.Id == id);

    public Station Station(string id) => Day.Stations.First(s => s.Id == id);

    public Step StepOf(PlanTask task) => Piece(task.Piece!).Route[task.Step!.Value - 1];

    public PlanTask TaskOf(string batch, string kind) => Plan.Tasks.First(t => t.Batch == batch && t.Kind == kind);

    public IEnumerable<Batch> Batches(string kind) => Plan.Batches.Where(b => b.Kind == kind);

    public Changed Task(PlanTask task, Func<PlanTask, PlanTask> change) =>
        this with
        {
            Plan = Plan with { Tasks = [.. Plan.Tasks.Select(t => ReferenceEquals(t, task) ? change(t) : t)] },
        };

    public Changed Without(PlanTask task) =>
        this with
        {
            Plan = Plan with { Tasks = [.. Plan.Tasks.Where(t => !ReferenceEquals(t, task))] },
        };

    public Changed More(params PlanTask[] tasks) => this with { Plan = Plan with { Tasks = [.. Plan.Tasks, .. tasks] } };

    public Changed Batch(Batch batch, Func<Batch, Batch> change) =>
        this with
        {
            Plan = Plan with { Batches = [.. Plan.Batches.Select(b => ReferenceEquals(b, batch) ? change(b) : b)] },
        };

    public Changed Place(Batch batch, int at, Func<Place, Place> change) =>
        Batch(batch, b => b with { Places = [.. b.Places.Select((p, i) => i == at ? change(p) : p)] });

    public Changed Piece(string id, Func<Piece, Piece> change) =>
        this with
        {
            Day = Day with { Pieces = [.. Day.Pieces.Select(p => p.Id == id ? change(p) : p)] },
        };

    public Changed Step(string id, int step, Func<Step, Step> change) =>
        Piece(id, p => p with { Route = [.. p.Route.Select((s, i) => i == step - 1 ? change(s) : s)] });

    public Changed Step(PlanTask task, Func<Step, Step> change) => Step(task.Piece!, task.Step!.Value, change);

    public Changed At<T>(string id, Func<T, T> change)
        where T : Station =>
        this with
        {
            Day = Day with { Stations = [.. Day.Stations.Select(s => s is T t && s.Id == id ? change(t) : s)] },
        };

    public Changed Person(string id, Func<Person, Person> change) =>
        this with
        {
            Day = Day with { People = [.. Day.People.Select(p => p.Id == id ? change(p) : p)] },
        };

    public Changed Can(Batch round, Func<Can, Can> change) =>
        Coating(round.Coating!, c => c with { Cans = [.. c.Cans.Select(k => k.Id == round.Can ? change(k) : k)] });

    public Changed Coating(string id, Func<Coating, Coating> change) =>
        this with
        {
            Day = Day with { Coatings = [.. Day.Coatings.Select(c => c.Id == id ? change(c) : c)] },
        };

    public Changed Part(string name, Func<ObjectivePart, ObjectivePart> change) =>
        this with
        {
            Plan = Plan with
            {
                Objective = Plan.Objective with { Parts = [.. Plan.Objective.Parts.Select(p => p.Name == name ? change(p) : p)] },
            },
        };

    public Changed Pin(PlanTask task, Func<int, Pin> pin) => Piece(task.Piece!, p => p with { Pins = [pin(task.Step!.Value)] });
}
