using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Keys;

namespace ShopFloor.Web.Background.Demo;

/// <summary>The demo's books: two rates of tax, an invoice that is paid, one that is open, a receipt, and a key. For a look at the running program only.</summary>
public sealed class DemoBooks(
    IDbContextFactory<ShopContext> contexts,
    ChangeInvoiceSettings settings,
    IssueInvoice issue,
    EnterPayment pay,
    MakeKey key,
    InvoiceView view
) : IUseCase
{
    private static readonly InvoiceSettings Rates = new()
    {
        Rates =
        [
            new("normal", "Normal rate", TaxKind.Standard(19), null, DateOnly.MinValue, null),
            new("reduced", "Reduced rate", TaxKind.Standard(7), null, DateOnly.MinValue, null),
        ],
        CashStep = 0.05m,
    };

    /// <summary>Fills them, unless there is an invoice already.</summary>
    public async Task RunAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Documents.AnyAsync(cancel))
            return;
        Must(await settings.RunAsync(Asked.BySystem(), Rates, cancel));
        _ = await key.RunAsync(Asked.BySystem(), new KeyInput("Web shop", [ApiScopes.OrdersIn, ApiScopes.StatusOut]), cancel);
        var over = await context
            .Pieces.Where(p => p.State == PieceState.HandedOver || p.State == PieceState.CheckedGood)
            .Select(p => p.Order)
            .Distinct()
            .OrderBy(o => o)
            .Take(3)
            .ToListAsync(cancel);
        foreach (var (order, at) in over.Select((o, i) => (o, i)))
        {
            var done = Must(await issue.RunAsync(Asked.BySystem(), new IssueInput(order, PaidBy: at == 2 ? "cash" : null), cancel));
            if (at == 0 && await view.LoadAsync(done.Number, cancel) is { } detail)
                Must(
                    await pay.RunAsync(
                        Asked.BySystem(),
                        new PaymentInput(done.Id, null, detail.Outstanding, detail.Today, "transfer", done.Number),
                        cancel
                    )
                );
        }
    }

    private static T Must<T>(Result<T> done) =>
        done.IsOk ? done.Value : throw new InvalidOperationException($"Demo books: {done.Refusals[0].Text}");
}
