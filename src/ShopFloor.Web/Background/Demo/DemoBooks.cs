using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Keys;

namespace ShopFloor.Web.Background.Demo;

/// <summary>
/// The demo's books: two rates of tax; the weeks before with their invoices, paid but for one that was reminded of; lately one that is paid,
/// one that is open and a receipt; and a key. For a look at the running program only.
/// </summary>
public sealed class DemoBooks(
    IDbContextFactory<ShopContext> contexts,
    WriteGate gate,
    Notifier notifier,
    TimeProvider time,
    Letterheads heads,
    MakeKey key,
    InvoiceView view
) : IUseCase
{
    // An invoice is due after 14 days and first reminded of a week later.
    private const int LongAgoDays = 10;
    private const int OverdueDays = 22;
    private const int PaidAfterDays = 9;

    private static readonly InvoiceSettings Rates = new()
    {
        Rates =
        [
            new("normal", "Normal rate", TaxKind.Standard(19), null, DateOnly.MinValue, null),
            new("reduced", "Reduced rate", TaxKind.Standard(7), null, DateOnly.MinValue, null),
        ],
        CashStep = 0.05m,
    };

    private sealed record Supplied(OrderId Order, DateTimeOffset At);

    /// <summary>Fills them, unless there is an invoice already.</summary>
    public async Task RunAsync(CancellationToken cancel = default)
    {
        await using (var context = await contexts.CreateDbContextAsync(cancel))
            if (await context.Documents.AnyAsync(cancel))
                return;
        var now = time.GetUtcNow();
        var clock = new DemoClock(now.AddDays(-DemoWorkshop.DaysOpen));
        var runner = new CommandRunner(contexts, gate, notifier, clock, NullLogger<CommandRunner>.Instance);
        Must(await new ChangeInvoiceSettings(runner).RunAsync(Asked.BySystem(), Rates, cancel));
        var supplied = await SuppliedAsync(cancel);
        foreach (var order in supplied.Where(s => s.At < now.AddDays(-LongAgoDays)))
            await LongAgoAsync(runner, clock, order, now, cancel);
        clock.GoTo(now);
        foreach (var (order, at) in supplied.Where(s => s.At >= now.AddDays(-LongAgoDays)).Take(3).Select((o, i) => (o, i)))
        {
            var input = new IssueInput(order.Order, PaidBy: at == 2 ? "cash" : null);
            var done = Must(await new IssueInvoice(runner, heads).RunAsync(Asked.BySystem(), input, cancel));
            if (at == 0)
                await PayAsync(runner, done, clock, cancel);
        }
        _ = await key.RunAsync(Asked.BySystem(), new KeyInput("Web shop", [ApiScopes.OrdersIn, ApiScopes.StatusOut]), cancel);
    }

    /// <summary>Orders with pieces that can be invoiced, in the order in which they were ready or handed over.</summary>
    private async Task<IReadOnlyList<Supplied>> SuppliedAsync(CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => p.State == PieceState.HandedOver || p.State == PieceState.CheckedGood)
            .Select(p => new { p.Order, p.ChangedAt })
            .ToListAsync(cancel);
        return [.. pieces.GroupBy(p => p.Order, (order, own) => new Supplied(order, own.Max(p => p.ChangedAt))).OrderBy(s => s.At)];
    }

    private async Task LongAgoAsync(CommandRunner runner, DemoClock clock, Supplied order, DateTimeOffset now, CancellationToken cancel)
    {
        clock.GoTo(order.At);
        var done = Must(await new IssueInvoice(runner, heads).RunAsync(Asked.BySystem(), new IssueInput(order.Order), cancel));
        var isLate = order.At < now.AddDays(-OverdueDays) && order.At > now.AddDays(-OverdueDays - 5);
        clock.GoTo(isLate ? now.AddDays(-1) : order.At.AddDays(PaidAfterDays));
        if (isLate)
            _ = Must(await new SendReminder(runner, heads).RunAsync(Asked.BySystem(), new ReminderInput(done.Id), cancel));
        else
            await PayAsync(runner, done, clock, cancel);
    }

    private async Task PayAsync(CommandRunner runner, DocumentIssued invoice, DemoClock clock, CancellationToken cancel)
    {
        if (await view.LoadAsync(invoice.Number, cancel) is not { } detail)
            return;
        var day = DateOnly.FromDateTime(clock.GetUtcNow().UtcDateTime);
        var input = new PaymentInput(invoice.Id, null, detail.Outstanding, day, "transfer", invoice.Number);
        Must(await new EnterPayment(runner).RunAsync(Asked.BySystem(), input, cancel));
    }

    private static T Must<T>(Result<T> done) =>
        done.IsOk ? done.Value : throw new InvalidOperationException($"Demo books: {done.Refusals[0].Text}");
}
