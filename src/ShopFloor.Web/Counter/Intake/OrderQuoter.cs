using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>
/// Keeps price and promise of the order on the screen up to date: a short pause after a change it asks anew, and an answer that was
/// overtaken by a change is dropped. Belongs to one circuit.
/// </summary>
public sealed class OrderQuoter : IDisposable
{
    /// <summary>From the last change to the new price.</summary>
    public static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(250);

    private readonly DraftKeeper keeper;
    private readonly Func<OrderEntry, OrderInput> read;
    private readonly Func<OrderInput, CancellationToken, Task<OrderQuote>> quote;
    private readonly ITimer timer;
    private CancellationTokenSource? running;
    private string quoted = "";
    private bool closed;

    /// <summary>Follows the keeper's order.</summary>
    public OrderQuoter(
        DraftKeeper keeper,
        Func<OrderEntry, OrderInput> read,
        Func<OrderInput, CancellationToken, Task<OrderQuote>> quote,
        Func<Func<Task>, Task> post,
        TimeProvider time
    )
    {
        (this.keeper, this.read, this.quote) = (keeper, read, quote);
        timer = time.CreateTimer(_ => _ = post(AskAsync), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        keeper.Changed += Later;
    }

    /// <summary>The last answer; null before the first.</summary>
    public OrderQuote? Quote { get; private set; }

    /// <summary>True while the answer is older than the order.</summary>
    public bool IsOld { get; private set; } = true;

    /// <summary>There is a new answer, or the old one became old.</summary>
    public event EventHandler? Changed;

    /// <summary>Asks now.</summary>
    public async Task AskAsync()
    {
        if (closed)
            return;
        running?.Cancel();
        using var mine = new CancellationTokenSource();
        running = mine;
        var input = read(keeper.Entry);
        var asked = Priced(input);
        try
        {
            var answer = await quote(input, mine.Token);
            // A newer question took over, or the entry was closed: nobody reads this answer, and there may be nothing left to hold it against.
            if (mine.IsCancellationRequested || asked != Priced(read(keeper.Entry)))
                return;
            (Quote, IsOld, quoted) = (answer, false, asked);
            Changed?.Invoke(this, EventArgs.Empty);
        }
        // The same, heard by whoever was asked.
        catch (OperationCanceledException) when (mine.IsCancellationRequested) { }
        finally
        {
            if (ReferenceEquals(running, mine))
                running = null;
        }
    }

    /// <inheritdoc />
    public void Dispose()
    {
        closed = true;
        keeper.Changed -= Later;
        timer.Dispose();
        running?.Cancel();
    }

    private void Later(object? sender, EventArgs e)
    {
        if (!IsOld && quoted == Priced(read(keeper.Entry)))
            return;
        timer.Change(Pause, Timeout.InfiniteTimeSpan);
        if (IsOld)
            return;
        IsOld = true;
        Changed?.Invoke(this, EventArgs.Empty);
    }

    /// <summary>What price and promise depend on: a name or an agreement needs no new ones.</summary>
    private static string Priced(OrderInput input) =>
        JsonSerializer.Serialize(
            new
            {
                input.Lines,
                input.IsRush,
                input.TodaysPrice,
                input.Customer,
            },
            JsonForms.Default
        );
}
