using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Pieces that are being quoted.</summary>
/// <param name="Piece">What each is.</param>
/// <param name="Count">How many.</param>
/// <param name="Steps">Fitted to it.</param>
/// <param name="Loss">Chance of spoiling one, 0 to below 1.</param>
public sealed record NewPieces(PieceDescription Piece, int Count, IReadOnlyList<RecipeStep> Steps, decimal Loss)
{
    /// <summary>Those that cannot be begun at once; null: all can.</summary>
    public LaterPieces? Later { get; init; }

    /// <summary>True when a test piece has to come out well before they are begun.</summary>
    public bool TestFirst { get; init; }
}

/// <summary>Pieces whose blanks have to come first.</summary>
/// <param name="Here">How many are here and may be begun at once.</param>
/// <param name="At">From when on the others may be begun, UTC.</param>
public sealed record LaterPieces(int Here, DateTimeOffset At);

/// <summary>One order that is being quoted.</summary>
/// <param name="Pieces">Its pieces, line by line.</param>
/// <param name="Rush">True: before everything that is not near.</param>
public sealed record AskedOrder(IReadOnlyList<NewPieces> Pieces, bool Rush)
{
    /// <summary>True when the customer has still to bring a picture or to approve of a proof before anything is printed.</summary>
    public bool ProofOpen { get; init; }
}

/// <summary>An order that a rush would make late. For the workshop's eyes alone.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Pieces">How many of its pieces.</param>
/// <param name="PromisedAt">What was promised, UTC.</param>
/// <param name="Late">By how much the last of them would be late; null when it would not be finished within the days looked ahead.</param>
public sealed record PushedOrder(string Number, int Pieces, DateTimeOffset PromisedAt, TimeSpan? Late)
{
    /// <summary>Pushed pieces told by their orders.</summary>
    /// <param name="pushed">The pieces.</param>
    /// <param name="shop">The snapshot.</param>
    /// <param name="shift">Seconds from the plan's zero to the snapshot.</param>
    public static IReadOnlyList<PushedOrder> Of(IReadOnlyList<Pushed> pushed, ShopSnapshot shop, int shift) =>
        [
            .. pushed
                .GroupBy(p => p.Order, StringComparer.Ordinal)
                .Select(g => new PushedOrder(
                    g.Key,
                    g.Count(),
                    shop.Now.AddSeconds(g.Min(p => p.PromiseS) - shift),
                    g.Any(p => p.EndS is null) ? null : TimeSpan.FromSeconds(g.Max(p => p.LateS))
                )),
        ];
}

/// <summary>When pieces that are being quoted would be ready.</summary>
/// <param name="At">The promise, UTC; null when they cannot be planned within the days looked ahead.</param>
/// <param name="Pushes">For a rush: whom it would make late.</param>
/// <param name="From">What it was computed from.</param>
public sealed record PromisedDay(DateTimeOffset? At, IReadOnlyList<PushedOrder> Pushes, PromiseBase From)
{
    /// <summary>Why there is no promise: for each line that nobody can make, counted from 0, the plan's reason.</summary>
    public IReadOnlyDictionary<int, LeftOut> LeftOut { get; init; } = new Dictionary<int, LeftOut>();

    /// <summary>Says that there is no day, and what each line lacks.</summary>
    /// <param name="text">That there is none.</param>
    /// <param name="field">What it is said beside.</param>
    /// <param name="lineByLine">True: what a line lacks is said beside the line.</param>
    public IReadOnlyList<Refusal> NoDate(string text, string? field = null, bool lineByLine = false) =>
        [
            new("no-date", text, field),
            .. LeftOut
                .OrderBy(l => l.Key)
                .Select(l => new Refusal("no-date", l.Value.Text, lineByLine ? FormattableString.Invariant($"lines.{l.Key}") : field)),
        ];
}

/// <summary>
/// Says when pieces that are being quoted would honestly be ready. What it is computed from is read and planned once after each change of
/// what plans depend on, however many ask, and is a minute old at most. Registered once.
/// </summary>
public sealed class PromiseDay : IDisposable
{
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(1);
    private static readonly Topic[] Causes =
    [
        Topic.Piece,
        Topic.Batch,
        Topic.Order,
        Topic.Station,
        Topic.Stock,
        Topic.Person,
        Topic.Settings,
    ];
    private readonly IDbContextFactory<ShopContext> contexts;
    private readonly TimeProvider time;
    private readonly PlanShelf? shelf;
    private readonly IDisposable news;
    private readonly Lock gate = new();
    private readonly HashSet<Guid> kept = [];
    private Task<PromiseBase?>? made;
    private DateTimeOffset madeAt;

    /// <param name="contexts">Reads of its own.</param>
    /// <param name="time">The clock.</param>
    /// <param name="notifier">Tells of changes.</param>
    /// <param name="shelf">The published plans; null where there are none yet.</param>
    public PromiseDay(IDbContextFactory<ShopContext> contexts, TimeProvider time, Notifier notifier, PlanShelf? shelf = null)
    {
        (this.contexts, this.time, this.shelf) = (contexts, time, shelf);
        news = notifier.Subscribe(Causes, Hear);
    }

    /// <summary>The promise.</summary>
    public async Task<PromisedDay> ForAsync(AskedOrder asked, CancellationToken cancel) => (await ForAsync([asked], cancel))[0];

    /// <summary>The promise of each, as if the others were not asked for.</summary>
    public async Task<IReadOnlyList<PromisedDay>> ForAsync(IReadOnlyList<AskedOrder> asked, CancellationToken cancel) =>
        (await BaseAsync(cancel)).Answer(asked);

    /// <summary>The promise for an order that is about to be booked, asked within the write gate: it stays true until the gate is left. Null
    /// when everything must be read and planned anew for it, which is better done outside.</summary>
    /// <param name="context">The command's own.</param>
    /// <param name="asked">The order.</param>
    /// <param name="cancel">Ends the reading.</param>
    public async Task<PromisedDay?> NowAsync(ShopContext context, AskedOrder asked, CancellationToken cancel)
    {
        // The news of a command come just after its end: who enters the gate before them sees its pieces in the journal.
        var place = await ShopSnapshot.PlaceAsync(context, cancel);
        Task<PromiseBase?>? known;
        lock (gate)
            known = IsOld || made is { IsFaulted: true } ? null : made;
        return known is not null && await known.WaitAsync(cancel) is { } found && found.Journal == place ? found.Answer([asked])[0] : null;
    }

    /// <summary>Keeps the time of an order that is being booked, within the write gate, so that the next one need not read and plan everything anew.</summary>
    /// <param name="promised">The promise it was given.</param>
    /// <param name="asked">What it was given for.</param>
    /// <param name="booked">What became of it.</param>
    public void Keep(PromisedDay promised, AskedOrder asked, BookedOrder booked)
    {
        lock (gate)
        {
            if (made is not { IsCompletedSuccessfully: true } || !ReferenceEquals(made.Result, promised.From))
                return;
            // Beside the saving: who comes next waits for whichever takes longer.
            made = Task.Run(() => promised.From.Booked(asked, booked.Number, booked.PromisedAt, booked.Codes.Count));
            kept.Add(booked.Order.Value);
        }
    }

    /// <summary>Reads and plans everything anew for the next question.</summary>
    public void Forget()
    {
        lock (gate)
        {
            made = null;
            kept.Clear();
        }
    }

    public void Dispose() => news.Dispose();

    private bool IsOld => time.GetUtcNow() - madeAt is var age && (age > Longest || age < TimeSpan.Zero);

    private void Hear(IReadOnlyList<Change> changes)
    {
        lock (gate)
            // An order that is kept already brings no news when it is told of.
            if (made is not null && changes.Any(c => c.Topic == Topic.Order && kept.Remove(c.Id)))
                return;
        Forget();
    }

    private async Task<PromiseBase> BaseAsync(CancellationToken cancel)
    {
        while (true)
        {
            Task<PromiseBase?> known;
            lock (gate)
            {
                // A base that could not take the last order in is no base any more.
                if (made is null || made.IsFaulted || made is { IsCompletedSuccessfully: true, Result: null } || IsOld)
                    (made, madeAt) = (Task.Run(MakeAsync), time.GetUtcNow());
                known = made;
            }
            if (await known.WaitAsync(cancel) is { } found)
                return found;
        }
    }

    /// <summary>From the published plan while it knows all that has happened, else from a plan made for the questions.</summary>
    private async Task<PromiseBase?> MakeAsync()
    {
        await using var context = await contexts.CreateDbContextAsync();
        var shop = await ShopSnapshot.ReadPromisedAsync(context, time.GetUtcNow(), CancellationToken.None);
        // The published plan knows only what is here; with pieces still awaited a plan is made that keeps their time for them.
        var awaited = shop.Pieces.Any(p => p.State == Domain.Pieces.PieceState.Booked);
        var latest = shelf is null || awaited ? null : await shelf.LatestAsync();
        if (
            latest is not null
            && latest.Journal == shop.Journal
            && PromiseBase.Suits(shop.Now - latest.Zero)
            && PromiseBase.KnowsAll(latest.Day, latest.Zero, shop)
        )
            return new PromiseBase(shop, latest.Promises, (int)(shop.Now - latest.Zero).TotalSeconds, []);
        var day = DayFromShop.Make(shop);
        return new PromiseBase(shop, Promises.Prepare(day, DayPlanner.First(day)), 0, []);
    }
}
