using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A shop with stations, cans and one booked order, and short words for what hands do.</summary>
internal sealed class BenchShop : IAsyncDisposable
{
    private sealed record Nothing;

    private BenchShop(TestShop shop) => Shop = shop;

    internal TestShop Shop { get; }

    internal Guid Worker { get; private set; }

    /// <summary>Code of the tray, or of the one piece.</summary>
    internal string Code { get; private set; } = "";

    internal static async Task<BenchShop> OpenAsync(
        int quantity = 12,
        bool own = false,
        Finish finish = Finish.WhiteGround,
        string material = "al",
        IReadOnlyList<string>? texts = null,
        Func<TestShop, Task>? before = null,
        bool printed = true
    )
    {
        var made = new BenchShop(await TestShop.EmptyAsync());
        var stocked = await made
            .Shop.Get<CommandRunner>()
            .RunAsync(
                "Stock",
                Allowed.System,
                Asked.BySystem(),
                new Nothing(),
                work => DemoStock.AddToAsync(work, new() { Name = "Test" }, new DemoHours(work.Now, TimeZoneInfo.Utc), default)
            );
        Assert.True(stocked.IsOk);
        if (before is not null)
            await before(made.Shop);
        made.Worker = await made.Shop.WorkerAsync(WorkerRole.Bench);
        made.Code = await made.BookAsync(quantity, own, finish, material, texts, printed);
        return made;
    }

    /// <summary>Books an order of one line; the answer is the code to scan.</summary>
    internal async Task<string> BookAsync(
        int quantity,
        bool own,
        Finish finish,
        string material,
        IReadOnlyList<string>? texts = null,
        bool printed = true,
        PieceDescription? form = null
    )
    {
        var line = new LineInput
        {
            Quantity = quantity,
            Finish = finish,
            Texts = texts ?? [],
            Piece = (form ?? Plate) with { Material = material, IsOwn = own, DeclaredValue = own ? 20 : null, Hidden = HiddenParts.None },
        };
        var input = new OrderInput
        {
            Contact = new Contact("Somebody", "somebody@shop.example", ""),
            Lines = [line],
            RiskAccepted = own,
            RightsAccepted = true,
            ContactAgreed = true,
        };
        await using (var context = await Shop.ContextAsync())
        {
            var facts = await ShopFacts.LoadAsync(context, Shop.Clock.GetUtcNow(), default);
            input = input with { ShownPriceHashes = [JudgeLine.Of(line, facts, false, null).Quote.Price?.Hash ?? ""] };
        }
        var booked = await Shop.Get<BookOrder>().RunAsync(Asked.BySystem(), input);
        Assert.True(booked.IsOk, Text(booked));
        var piece = await PieceAsync(booked.Value.Codes[0]);
        if (printed)
            await PrintedAsync(piece.Order);
        return piece.Tray ?? piece.Code;
    }

    private static PieceDescription Plate =>
        new()
        {
            Width = Length.FromMillimetres(100),
            Height = Length.FromMillimetres(60),
            Thickness = Length.FromMillimetres(1),
        };

    // What was never printed is asked about at Tape.
    private async Task PrintedAsync(OrderId order)
    {
        await using var context = await Shop.ContextAsync();
        var booked = await context.Orders.FirstAsync(o => o.Id == order);
        if (booked.Proof == ProofState.Waiting)
            Assert.True(booked.ApproveProof("").IsOk);
        Assert.True(booked.Printed(Shop.Clock.GetUtcNow()).IsOk);
        await context.SaveChangesAsync();
    }

    internal Asked Ask(Guid? command = null) => Asked.By(Worker, command ?? Guid.CreateVersion7());

    internal async Task<Piece> PieceAsync(string code)
    {
        await using var context = await Shop.ContextAsync();
        return await context.Pieces.AsNoTracking().FirstAsync(p => p.Code == code);
    }

    internal async Task<IReadOnlyList<Piece>> PiecesAsync()
    {
        await using var context = await Shop.ContextAsync();
        return await context.Pieces.AsNoTracking().OrderBy(p => p.Number).ThenBy(p => p.Code).ToListAsync();
    }

    internal void Wait(double seconds) => Shop.Clock.Advance(TimeSpan.FromSeconds(seconds));

    internal Task<Result<Moved>> ReceiveAsync() => Shop.Get<ReceivePieces>().RunAsync(Ask(), new Target(Code));

    internal Task<Result<Moved>> StartAsync(int step, int? count = null, TimeDecision? decision = null, Guid? command = null) =>
        Shop.Get<StartStep>().RunAsync(Ask(command), new StartWish(new Target(Code, step, count), Decision: decision, IsHot: true));

    internal Task<Result<Moved>> FinishAsync(
        int step,
        int? count = null,
        TimeDecision? decision = null,
        Guid? command = null,
        Ended? end = null
    ) => Shop.Get<FinishStep>().RunAsync(Ask(command), new FinishWish(new Target(Code, step, count), End: end, Decision: decision));

    internal Task<Result<Moved>> FinishBatchAsync(FinishBatchWish wish, Guid? command = null) =>
        Shop.Get<FinishBatch>().RunAsync(Ask(command), wish);

    internal Task<Result<Moved>> UndoAsync(Guid command) => Shop.Get<UndoLast>().RunAsync(Ask(), new UndoWish(null, command));

    /// <summary>Puts pieces aside, as hands do it: a fault, and what follows from it.</summary>
    internal Task<Result<Moved>> AsideAsync(Target target, string why, Guid? command = null) =>
        Shop.Get<ReportFault>().RunAsync(Ask(command), new FaultReport(target, "run", "", new TimeDecision(TimeChoice.Hold, why)));

    /// <summary>Fresh air was measured in the oven: coats that are still wet may go in.</summary>
    internal async Task VentAsync()
    {
        await using var context = await Shop.ContextAsync();
        var oven = await context.Stations.SingleAsync(s => s.Kind == StationKind.Oven);
        oven.Change(oven.Name, (OvenSettings)oven.Settings with { FreshAir = 20 });
        await context.SaveChangesAsync();
    }

    /// <summary>Works the whole line up to before a step of that kind; each wait as long as it must be. Counts scans and taps.</summary>
    internal async Task<(int Scans, int Taps)> WorkToAsync(StepKind until, string? code = null)
    {
        var (scans, taps) = (0, 0);
        code ??= Code;
        if ((await PiecesAsync()).First(p => (p.Tray ?? p.Code) == code).State == PieceState.Booked)
            Must(await Shop.Get<ReceivePieces>().RunAsync(Ask(), new Target(code)));
        while ((await PiecesAsync()).First(p => (p.Tray ?? p.Code) == code) is { NextAttended: { } next } piece)
        {
            WaitBefore(piece, next);
            if (next.Kind == until)
                break;
            scans += next.Kind == StepKind.Wipe ? 1 : 0;
            taps += await DoAsync(next, code);
        }
        return (scans, taps);
    }

    /// <summary>Does one step of the whole line; the answer is the taps it took.</summary>
    internal async Task<int> DoAsync(WorkItem next, string? code = null)
    {
        code ??= Code;
        if (BatchRule.KindFor(next.Kind) is null)
        {
            if (next.Kind == StepKind.Inspect)
                Must(await Shop.Get<InspectPieces>().RunAsync(Ask(), new Inspection(new Target(code, next.Number), new Findings())));
            else
                return await HandworkAsync(new FinishWish(new Target(code, next.Number)));
            return 1;
        }
        var begun = Must(await Shop.Get<StartStep>().RunAsync(Ask(), new StartWish(new Target(code, next.Number), IsHot: true)));
        Wait(next.Kind.HasWindow() ? next.Settings.MinSeconds : next.Settings.LengthSeconds);
        Must(await FinishBatchAsync(new FinishBatchWish(begun.Batch!)));
        return 2;
    }

    // A material that asks for a test first is asked about once, before its first step.
    private async Task<int> HandworkAsync(FinishWish wish)
    {
        var done = await Shop.Get<FinishStep>().RunAsync(Ask(), wish);
        if (Code0(done) != "test-first")
        {
            Must(done);
            return 1;
        }
        Must(
            await Shop.Get<FinishStep>()
                .RunAsync(Ask(), wish with { Decision = new TimeDecision(TimeChoice.GoOn, "The same went well before") })
        );
        return 2;
    }

    internal static Moved Must(Result<Moved> answer)
    {
        Assert.True(answer.IsOk, Text(answer));
        return answer.Value;
    }

    internal static string Code0<T>(Result<T> answer) => answer.IsOk ? "ok" : answer.Refusals[0].Code;

    /// <summary>What counts of every piece, for comparing.</summary>
    internal async Task<string> FactsAsync()
    {
        var pieces = await PiecesAsync();
        return string.Join('\n', pieces.Select(Facts));
    }

    internal static string Facts(Piece p) =>
        $"{p.Code} {p.State} {p.HeldFrom} {p.Reworks} {p.IsBound} {p.BoundText} "
        + string.Join(
            ' ',
            p.Items.OrderBy(i => i.Number)
                .Select(i => $"{i.Number}:{i.State}:{i.StartedAt:O}:{i.FinishedAt:O}:{i.Batch}:{i.Can}:{i.Measured}")
        );

    public ValueTask DisposeAsync() => Shop.DisposeAsync();

    private void WaitBefore(Piece piece, WorkItem next)
    {
        if (piece.Items.FirstOrDefault(i => i.Number == next.Number - 1) is not { State: WorkState.Running, StartedAt: { } rests } rest)
            return;
        var left = rests.AddSeconds(rest.Settings.MinSeconds) - Shop.Clock.GetUtcNow();
        if (left > TimeSpan.Zero)
            Shop.Clock.Advance(left);
    }

    private static string Text<T>(Result<T> answer) => string.Join(' ', answer.Refusals.Select(r => $"{r.Code}: {r.Text}"));
}
