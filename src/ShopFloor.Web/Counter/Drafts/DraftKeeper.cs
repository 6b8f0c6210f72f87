using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Drafts;

/// <summary>
/// The order on an open screen. Every change is kept in the database a short pause later, so that a reload, a dropped line or a restart
/// of the server loses at most one second. Belongs to one circuit and is used on its dispatcher only.
/// </summary>
public sealed class DraftKeeper : IDisposable
{
    /// <summary>From a change to its keeping. With the pause of text fields (0.4 s) it stays under a second.</summary>
    public static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(300);

    /// <summary>From a keeping that broke off to the next try.</summary>
    public static readonly TimeSpan Again = TimeSpan.FromSeconds(5);

    private readonly Func<KeepDraftInput, Task<Result<int>>> keep;
    private readonly Action<Exception>? broke;
    private readonly ITimer timer;
    private readonly HashSet<PictureId> taken = [];
    private Task saving = Task.CompletedTask;
    private bool changed;
    private int edit;

    /// <summary>The order of a draft.</summary>
    /// <param name="id">The draft.</param>
    /// <param name="opened">As it was opened.</param>
    /// <param name="keep">Keeps it.</param>
    /// <param name="post">Brings a call onto the screen's dispatcher.</param>
    /// <param name="time">The clock.</param>
    /// <param name="broke">Told of what broke a keeping off.</param>
    public DraftKeeper(
        Guid id,
        OpenedDraft opened,
        Func<KeepDraftInput, Task<Result<int>>> keep,
        Func<Func<Task>, Task> post,
        TimeProvider time,
        Action<Exception>? broke = null
    )
    {
        (Id, Entry, Step, edit) = (id, opened.Kept.Entry, opened.Step, opened.Kept.Edit);
        (this.keep, this.broke) = (keep, broke);
        timer = time.CreateTimer(_ => _ = post(FlushAsync), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
    }

    /// <summary>Names the draft.</summary>
    public Guid Id { get; }

    /// <summary>As it stands on the screen.</summary>
    public OrderEntry Entry { get; private set; }

    /// <summary>The line that is being entered.</summary>
    public LineEntry Line => Entry.Line;

    /// <summary>Where the person is.</summary>
    public CounterStep Step { get; private set; }

    /// <summary>Why the last keeping failed; null when all is kept.</summary>
    public Refusal? Trouble { get; private set; }

    /// <summary>Something on the screen changed.</summary>
    public event EventHandler? Changed;

    /// <summary>Changes the order.</summary>
    public void Change(Func<OrderEntry, OrderEntry> change)
    {
        Entry = change(Entry);
        Note();
    }

    /// <summary>Changes the line that is being entered.</summary>
    public void ChangeLine(Func<LineEntry, LineEntry> change) => Change(e => e.WithLine(change));

    /// <summary>Goes to a step; what was typed is kept at once.</summary>
    public Task GoAsync(CounterStep step)
    {
        Step = step;
        Note();
        return FlushAsync();
    }

    /// <summary>Takes over pictures that came in.</summary>
    /// <returns>What they say to the customer.</returns>
    public IReadOnlyList<string> Take(IReadOnlyList<IncomingPicture> incoming)
    {
        IReadOnlyList<IncomingPicture> fresh = [.. incoming.Where(p => p.Line < Entry.Lines.Count && taken.Add(p.Picture.Id))];
        if (fresh.Count == 0)
            return [];
        Entry = fresh.Aggregate(Entry, With);
        Note();
        return [.. fresh.SelectMany(p => p.Notes)];
    }

    /// <summary>Keeps what is not kept yet; a keeping that runs is waited for first.</summary>
    public async Task FlushAsync()
    {
        timer.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        await saving;
        if (changed)
        {
            changed = false;
            saving = KeepAsync();
        }
        // Whoever waited beside us may have begun the next keeping.
        await saving;
    }

    /// <inheritdoc />
    public void Dispose() => timer.Dispose();

    private async Task KeepAsync()
    {
        IReadOnlyList<PictureId> sent = [.. taken];
        var result = await TryAsync(new KeepDraftInput(Id, edit, Entry, Step, sent));
        var before = Trouble;
        if (result.IsOk)
            (edit, Trouble) = (result.Value, null);
        else
            (changed, Trouble) = (true, result.Refusals[0]);
        if (before != Trouble)
            Changed?.Invoke(this, EventArgs.Empty);
    }

    // What is on the screen must not be lost to a fault that may be over in a moment: it is said, and tried again.
    private async Task<Result<int>> TryAsync(KeepDraftInput input)
    {
        try
        {
            return await keep(input);
        }
        catch (Exception fault)
        {
            broke?.Invoke(fault);
            timer.Change(Again, Timeout.InfiniteTimeSpan);
            return new Refusal("not-kept", "Your entry could not be kept just now. It is tried again by itself in a moment.");
        }
    }

    private void Note()
    {
        changed = true;
        timer.Change(Pause, Timeout.InfiniteTimeSpan);
        Changed?.Invoke(this, EventArgs.Empty);
    }

    private static OrderEntry With(OrderEntry entry, IncomingPicture came) =>
        entry with
        {
            Lines =
            [
                .. entry.Lines.Select(
                    (line, i) =>
                        i != came.Line ? line
                        : came.IsPhoto ? line with { Photos = [.. line.Photos, came.Picture.Id] }
                        : line with { Picture = came.Picture, PictureLater = false, Framing = Framing.Whole }
                ),
            ],
        };
}
