using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Complaints;

/// <summary>A complaint as it comes in.</summary>
/// <param name="Order">The order.</param>
/// <param name="Pieces">Pieces that were handed over.</param>
/// <param name="Words">What is wrong, in the customer's words.</param>
public sealed record ComplaintInput(OrderId Order, IReadOnlyList<PieceId> Pieces, string Words);

/// <summary>Takes a complaint about pieces that were handed over.</summary>
public sealed class OpenComplaint(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Guid>> RunAsync(Asked asked, ComplaintInput input, CancellationToken cancel = default) =>
        runner.RunAsync<ComplaintInput, Guid>(
            nameof(OpenComplaint),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Guid>> DecideAsync(CommandWork work, ComplaintInput input, CancellationToken cancel)
    {
        if (Complaint.Check(input.Pieces, input.Words) is { } fault)
            return fault;
        var pieces = await work
            .Context.Pieces.AsNoTracking()
            .Where(p => input.Pieces.Contains(p.Id) && p.Order == input.Order && p.State == PieceState.HandedOver)
            .Select(p => p.Id)
            .ToListAsync(cancel);
        if (pieces.Count != input.Pieces.Distinct().Count())
            return new Refusal("complaint-here", "Only pieces of this order that were handed over can come back.", nameof(input.Pieces));
        var open = await work
            .Context.Complaints.AsNoTracking()
            .Where(c => c.Order == input.Order && c.State == ComplaintState.Open)
            .ToListAsync(cancel);
        if (open.Exists(c => c.Pieces.Intersect(pieces).Any()))
            return new Refusal("complaint-twice", "One of these pieces has an open complaint already.", nameof(input.Pieces));
        var complaint = new Complaint(Guid.CreateVersion7(), input.Order, pieces, input.Words.Trim(), work.Now, work.By);
        work.Context.Complaints.Add(complaint);
        work.Touch(Topic.Complaint, complaint.Id);
        work.Touch(Topic.Order, input.Order.Value);
        return complaint.Id;
    }
}
