using System.Security.Claims;
using Microsoft.Extensions.Localization;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Live;
using ShopFloor.Web.Security;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>What the order page works with: the kept entry, its price, and the commands. One for each open page.</summary>
public sealed partial class OrderDesk(
    OpenDraft open,
    KeepDraft keep,
    WipeDraft wipe,
    BookOrder book,
    QuoteOrder quote,
    CounterChoicesView choices,
    Notifier notifier,
    TimeProvider time,
    IStringLocalizer<CounterTexts> texts,
    Spoken spoken,
    ILogger<OrderDesk> logger
) : IErrand, IDisposable
{
    private static readonly SemaphoreSlim Quotes = new(2);
    private IDisposable? news;
    private Guid worker;
    private Func<Func<Task>, Task> post = work => work();

    /// <summary>The entry; null while there is none to show.</summary>
    public DraftKeeper? Keeper { get; private set; }

    /// <summary>What can be chosen.</summary>
    public CounterChoices? Choices { get; private set; }

    /// <summary>Price and promise.</summary>
    public OrderQuoter? Quoter { get; private set; }

    /// <summary>Why there is nothing to show.</summary>
    public Refusal? Fault { get; private set; }

    /// <summary>The order that the draft became.</summary>
    public OrderId? Booked { get; private set; }

    /// <summary>True for somebody who works here, false for a device that customers use.</summary>
    public bool IsClerk { get; private set; }

    /// <summary>What pictures that came in said.</summary>
    public IReadOnlyList<string> Notes { get; private set; } = [];

    /// <summary>Opens a draft; a draft that is open already stays as it is.</summary>
    public async Task OpenAsync(Guid id, ClaimsPrincipal user, Func<Func<Task>, Task> invoke, Func<Exception, Task> fail)
    {
        if (Keeper?.Id == id)
            return;
        Close();
        (worker, IsClerk) = (WorkerClaim.IdOf(user) ?? Guid.Empty, Clerks.Is(user));
        post = work => OnItsPage.RunAsync(invoke, work, fail);
        var opened = await open.RunAsync(worker, id);
        Fault = opened.IsOk ? null : opened.Refusals[0];
        Booked = opened.IsOk ? opened.Value.BecameOrder : null;
        if (!opened.IsOk || Booked is not null)
            return;
        Choices = await choices.RunAsync();
        Keeper = new DraftKeeper(
            id,
            opened.Value,
            input => keep.RunAsync(Asked.By(worker), input),
            post,
            time,
            e => LogNotKept(logger, id, e)
        );
        Quoter = new OrderQuoter(
            Keeper,
            e => Input(id, OrderWalk.Known(e)),
            async (input, cancel) => (await QuoteAsync([input], cancel))[0],
            post,
            time
        );
        Notes = Keeper.Take(opened.Value.Kept.Incoming);
        news = notifier.Subscribe([Topic.Draft], changes => Hear(changes, id));
    }

    /// <summary>What is wrong with a step, in the screen's language.</summary>
    public IReadOnlyList<Refusal> FaultsOf(CounterStep step) => FaultsOf(Keeper!, step);

    private IReadOnlyList<Refusal> FaultsOf(DraftKeeper keeper, CounterStep step) =>
        [.. TooLarge(keeper, step), .. StepFaults.Of(keeper.Entry, step, Choices!.Today).Select(f => f.Said(texts))];

    // Said where the size is entered: nobody should choose pictures for a piece that goes into no oven.
    private IReadOnlyList<Refusal> TooLarge(DraftKeeper keeper, CounterStep step) =>
        step == CounterStep.Size && JudgeLine.TooLarge(EntryReading.Piece(keeper.Line, keeper.Entry.Unit), Choices!.Sizes) is { } large
            ? [spoken.Of(large)]
            : [];

    /// <summary>Books the order; asked twice it books once.</summary>
    public async Task<Result<BookedOrder>> BookAsync()
    {
        var keeper = Keeper!;
        await keeper.FlushAsync();
        if (FaultsOf(keeper, CounterStep.Check) is { Count: > 0 } faults)
            return Result<BookedOrder>.Refused(faults);
        var result = await book.RunAsync(Asked.By(worker, keeper.Entry.BookCommand), Input(keeper.Id, keeper.Entry));
        return result.IsOk ? result : Result<BookedOrder>.Refused(spoken.Of(result.Refusals));
    }

    /// <summary>Puts the entry away for good.</summary>
    public async Task WipeAsync()
    {
        if (Keeper is not { } keeper)
            return;
        Close();
        await wipe.RunAsync(Asked.By(worker), keeper.Id);
    }

    /// <summary>The order as it would be booked. The draft is named: an answer may come when the entry is closed already.</summary>
    public OrderInput Input(Guid draft, OrderEntry entry) =>
        EntryReading.Order(entry, draft, Choices!.Print, CultureInfo.CurrentUICulture.TwoLetterISOLanguageName);

    // The promise plans the shop's days, which takes its time: not on the circuit's own thread, and not for everybody at once.
    private async Task<IReadOnlyList<OrderQuote>> QuoteAsync(IReadOnlyList<OrderInput> ways, CancellationToken cancel)
    {
        await Quotes.WaitAsync(cancel);
        try
        {
            return await Task.Run(() => quote.RunAsync(ways, cancel), cancel);
        }
        finally
        {
            Quotes.Release();
        }
    }

    /// <summary>What a rush would cost in its turn, and when it would be ready then.</summary>
    public async Task<OrderQuote> InItsTurnAsync(CancellationToken cancel) =>
        (await QuoteAsync([Input(Keeper!.Id, Keeper.Entry with { IsRush = false })], cancel))[0];

    /// <summary>Other ways to have the order, each with its own price and day; only those that are cheaper or earlier.</summary>
    public async Task<IReadOnlyList<OfferedWay>> OtherWaysAsync(CancellationToken cancel)
    {
        var ways = OtherWays.Of(Keeper!.Entry, Choices!, Quoter?.Quote?.PromisedAt is not null).ToList();
        var quotes = await QuoteAsync([Input(Keeper.Id, Keeper.Entry), .. ways.Select(w => Input(Keeper.Id, w.Entry))], cancel);
        return OtherWays.Best(
            ways.Zip(quotes.Skip(1), (way, then) => OfferedWay.Compared(way, quotes[0], then, Choices!.PricesIncludeTax))
                .OfType<OfferedWay>()
        );
    }

    /// <summary>Goes to a step at once. What was typed is kept beside it, so that nobody waits for the disk; trouble with that is the keeper's to tell.</summary>
    public void Go(CounterStep step) => _ = Keeper is { } keeper ? post(() => keeper.GoAsync(step)) : Task.CompletedTask;

    /// <summary>A command of this worker.</summary>
    public Asked Ask() => Asked.By(worker);

    /// <inheritdoc />
    public void Dispose() => Close();

    private void Close()
    {
        news?.Dispose();
        Quoter?.Dispose();
        Keeper?.Dispose();
        (news, Quoter, Keeper, Notes) = (null, null, null, []);
    }

    private void Hear(IReadOnlyList<Change> changes, Guid id)
    {
        if (changes.Any(c => c.Id == id || c.Id == Guid.Empty))
            _ = post(TakeIncomingAsync);
    }

    private async Task TakeIncomingAsync()
    {
        if (Keeper is not { } keeper)
            return;
        var opened = await open.RunAsync(worker, keeper.Id);
        if (opened.IsOk && keeper.Take(opened.Value.Kept.Incoming) is { Count: > 0 } notes)
            Notes = notes;
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The draft {Draft} could not be kept")]
    private static partial void LogNotKept(ILogger logger, Guid draft, Exception fault);
}
