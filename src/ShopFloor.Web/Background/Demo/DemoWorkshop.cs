using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Demo;

/// <summary>Fills an empty database with an invented workshop, for a first look and for tests. Everything in it is made up.</summary>
public sealed class DemoWorkshop(
    IDbContextFactory<ShopContext> contexts,
    WriteGate gate,
    Notifier notifier,
    TimeProvider time,
    DemoPictures pictures,
    DemoLogo logo,
    Sending.SecretBox secrets
) : IUseCase
{
    /// <summary>Days since the invented workshop opened.</summary>
    public const int DaysOpen = 60;

    private sealed record Nothing;

    /// <summary>Fills it, unless there is something in it already.</summary>
    public async Task<bool> RunAsync(CancellationToken cancel = default)
    {
        await using (var context = await contexts.CreateDbContextAsync(cancel))
            if (await context.Recipes.AnyAsync(cancel))
                return false;
        var now = time.GetUtcNow();
        var clock = new DemoClock(now.AddDays(-DaysOpen));
        // Fifty lines of log about an invented past would hide the address.
        var runner = new CommandRunner(
            contexts,
            gate,
            notifier,
            clock,
            Microsoft.Extensions.Logging.Abstractions.NullLogger<CommandRunner>.Instance
        );
        await MustAsync(runner, "Demo workshop", work => DemoStock.AddToAsync(work, Profile, new DemoHours(now, Zone), cancel), cancel);
        await MustAsync(runner, "Demo logo", work => logo.AddToAsync(work, cancel), cancel);
        using var promises = new PromiseDay(contexts, clock, notifier);
        var book = new BookOrder(contexts, runner, promises, new JudgedLines(), secrets);
        // All are booked before any work is played: a promise must not see work that is still to come.
        var booked = new List<(DemoOrder Demo, OrderId Order, PictureId? Picture)>();
        foreach (var demo in DemoOrders.All(DateOnly.FromDateTime(now.UtcDateTime)).OrderByDescending(d => d.DaysAgo))
        {
            clock.GoTo(now.AddDays(-demo.DaysAgo));
            booked.Add(await BookAsync(runner, book, clock, demo, cancel));
        }
        clock.GoTo(now);
        foreach (var (demo, order, picture) in booked)
            await MustAsync(runner, "Demo story", work => PlayAsync(work, demo, order, picture, now, cancel), cancel);
        await MustAsync(runner, "Demo absence", work => AbsenceAsync(work, cancel), cancel);
        await MustAsync(runner, "Demo pin", work => DemoPins.AddToAsync(work, cancel), cancel);
        await MustAsync(runner, "Demo sending", work => DemoSending.AddToAsync(work, cancel), cancel);
        await MustAsync(runner, "Demo complaints", work => DemoComplaints.AddToAsync(work, cancel), cancel);
        return true;
    }

    /// <summary>The invented workshop.</summary>
    private static WorkshopProfile Profile { get; } =
        new()
        {
            Name = "Moorlight Workshop",
            Street = "Torfweg 7",
            Postcode = "00000",
            City = "Moorstedt",
            Country = "DE",
            Email = "hello@moorlight.example",
            Phone = "+49 000 000000",
            VatId = "DE000000000",
            Iban = "DE36 0000 0000 0000 0000 00",
        };

    private static TimeZoneInfo Zone { get; } = TimeZoneInfo.FindSystemTimeZoneById(Profile.TimeZone);

    private async Task<(DemoOrder Demo, OrderId Order, PictureId? Picture)> BookAsync(
        CommandRunner runner,
        BookOrder book,
        DemoClock clock,
        DemoOrder demo,
        CancellationToken cancel
    )
    {
        PictureId? picture = null;
        await MustAsync(
            runner,
            "Demo picture",
            async work =>
            {
                picture = await pictures.AddToAsync(work, demo.Picture, cancel);
                return default(Done);
            },
            cancel
        );
        var input = demo.Order with { Lines = [.. demo.Order.Lines.Select(l => l with { Picture = picture })] };
        input = input with { ShownPriceHashes = await ShownAsync(input, cancel, clock.GetUtcNow()) };
        var booked = await book.RunAsync(Asked.BySystem(), input, cancel);
        return (demo, booked.Value.Order, picture);
    }

    private async Task<Result<Done>> PlayAsync(
        CommandWork work,
        DemoOrder demo,
        OrderId order,
        PictureId? picture,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        var context = work.Context;
        var found = await context.Orders.FirstAsync(o => o.Id == order, cancel);
        if (found.Proof == ProofState.Waiting && demo.Stage is not null)
            _ = found.JudgeProof(true, "approved at the Counter");
        if (demo.Stage is not null)
            _ = found.Printed(now.AddDays(-demo.DaysAgo).AddHours(1));
        if (demo.End is null or PieceState.Held)
            found.Promise(new DemoHours(now, Zone).Closing(demo.DaysLeft));
        var pieces = await context.Pieces.Where(p => p.Order == order).OrderBy(p => p.Number).ToListAsync(cancel);
        var stations = await context.Stations.ToListAsync(cancel);
        var cans = await context.Cans.OrderBy(c => c.Code).ToListAsync(cancel);
        var coatings = await context.Coatings.ToListAsync(cancel);
        var story = new DemoStory(work, stations, cans, coatings);
        var photo = demo.End == PieceState.Spoiled ? await pictures.AddToAsync(work, DemoPictures.Blistered, cancel) : null;
        await story.PlayAsync(pieces, demo, (picture, photo), now, cancel);
        if (demo is { Stage: StepKind.Clean } && found.Lines[0] is { AsksForTest: true } line)
            await story.TestAsync(pieces[0], line, now, cancel);
        return default(Done);
    }

    private static async Task<Result<Done>> AbsenceAsync(CommandWork work, CancellationToken cancel)
    {
        var first = DateOnly.FromDateTime(work.Now.UtcDateTime).AddDays(20);
        IReadOnlyList<Absence> away = [new("bo", first, first.AddDays(4), "holiday")];
        await work.KeepAsync(SettingKeys.Absences, away, cancel);
        return default(Done);
    }

    private async Task<IReadOnlyList<string>> ShownAsync(OrderInput input, CancellationToken cancel, DateTimeOffset at)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var shop = await ShopFacts.LoadAsync(context, at, cancel);
        return [.. input.Lines.Select(l => JudgeLine.Of(l, shop, false, null).Quote.Price?.Hash ?? "")];
    }

    private static async Task MustAsync(
        CommandRunner runner,
        string name,
        Func<CommandWork, Task<Result<Done>>> decide,
        CancellationToken cancel
    )
    {
        var done = await runner.RunAsync(name, Allowed.System, Asked.BySystem(), new Nothing(), decide, cancel);
        if (!done.IsOk)
            throw new InvalidOperationException($"{name}: {done.Refusals[0].Text}");
    }
}
