using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Complaints;

/// <summary>What paying pieces back would issue.</summary>
/// <param name="Document">Number of the invoice, or of the credit note that took them back already.</param>
/// <param name="Sum">What a new credit note takes back, with tax; null: none is issued.</param>
/// <param name="Currency">Of the sum.</param>
public sealed record RefundSheet(string Document, decimal? Sum, string Currency);

/// <summary>Says what paying complained pieces back would issue, before it is done.</summary>
public sealed class RefundDraft(IDbContextFactory<ShopContext> contexts, CreditDraft drafts, TimeProvider time) : IPageView
{
    /// <summary>Says it, or why it cannot be.</summary>
    public async Task<Result<RefundSheet>> RunAsync(Guid id, string answer, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Complaints.AsNoTracking().FirstOrDefaultAsync(c => c.Id == id, cancel) is not { } complaint)
            return new Refusal("complaint-missing", "This complaint is no longer there.");
        var way = await RefundWay.OfAsync(context, complaint, answer, time.GetUtcNow(), cancel);
        if (!way.IsOk)
            return Result<RefundSheet>.Refused(way.Refusals);
        var currency = await context.Orders.Where(o => o.Id == complaint.Order).Select(o => o.Currency).FirstAsync(cancel);
        if (way.Value.Credit is not { } credit)
            return new RefundSheet(way.Value.Document, null, currency);
        var sum = await drafts.RunAsync(credit, cancel);
        return sum.Then(s => Result<RefundSheet>.Ok(new RefundSheet(way.Value.Document, s, currency)));
    }
}
