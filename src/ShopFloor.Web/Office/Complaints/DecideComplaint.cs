using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Complaints;

/// <summary>What the owner decides.</summary>
public enum ComplaintAct
{
    /// <summary>Make the pieces once more, at no price.</summary>
    Remake,

    /// <summary>Pay them back by a credit note.</summary>
    Refund,

    /// <summary>Turn it down.</summary>
    Refuse,
}

/// <summary>A decision.</summary>
/// <param name="Complaint">Which.</param>
/// <param name="SeenVersion">As the page showed it.</param>
/// <param name="Act">What is done.</param>
/// <param name="Answer">What the customer is told.</param>
public sealed record ComplaintDecision(Guid Complaint, int SeenVersion, ComplaintAct Act, string Answer);

/// <summary>Ends a complaint: remake, refund or refusal.</summary>
public sealed class DecideComplaint(
    IDbContextFactory<ShopContext> contexts,
    CommandRunner runner,
    PromiseDay promises,
    IssueCreditNote credit
) : IUseCase
{
    /// <summary>Does it.</summary>
    public async Task<Result<Done>> RunAsync(Asked asked, ComplaintDecision decision, CancellationToken cancel = default)
    {
        if (decision.Act == ComplaintAct.Remake)
            await PrepareAsync(decision, cancel);
        return await runner.RunAsync<ComplaintDecision, Done>(
            nameof(DecideComplaint),
            Allowed.Owner,
            asked,
            decision,
            work => DecideAsync(work, decision, cancel),
            cancel
        );
    }

    /// <summary>Computes what the gate will ask for, which finds it remembered unless something happens in between.</summary>
    private async Task PrepareAsync(ComplaintDecision decision, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var open = context.Complaints.AsNoTracking().Where(c => c.Id == decision.Complaint && c.State == ComplaintState.Open);
        if (await open.FirstOrDefaultAsync(cancel) is not { } complaint)
            return;
        var judged = await JudgedRemake.OfAsync(context, complaint, runner.Now, cancel);
        if (judged.Faults.Count == 0)
            await promises.ForAsync(judged.Asked, cancel);
    }

    private async Task<Result<Done>> DecideAsync(CommandWork work, ComplaintDecision decision, CancellationToken cancel)
    {
        if (await work.Context.Complaints.FirstOrDefaultAsync(c => c.Id == decision.Complaint, cancel) is not { } complaint)
            return new Refusal("complaint-missing", "This complaint is no longer there.");
        if (CommandWork.IfChanged(decision.SeenVersion, complaint.Version, "this complaint") is { } changed)
            return changed;
        if (complaint.State != ComplaintState.Open)
            return new Refusal("complaint-decided", "This complaint is decided already.");
        work.Touch(Topic.Complaint, complaint.Id);
        return decision.Act switch
        {
            ComplaintAct.Remake => await RemakeAsync(work, complaint, decision.Answer, cancel),
            ComplaintAct.Refund => await RefundAsync(work, complaint, decision.Answer, cancel),
            _ => complaint.Refuse(decision.Answer, work.Now),
        };
    }

    private async Task<Result<Done>> RemakeAsync(CommandWork work, Complaint complaint, string answer, CancellationToken cancel)
    {
        var judged = await JudgedRemake.OfAsync(work.Context, complaint, work.Now, cancel);
        if (judged.Faults.Count > 0)
            return Result<Done>.Refused(judged.Faults);
        var promised = await promises.NowAsync(work.Context, judged.Asked, cancel) ?? await promises.ForAsync(judged.Asked, cancel);
        if (promised.At is not { } ready)
            return Result<Done>.Refused(promised.NoDate("The workshop cannot make this within the days it plans ahead."));
        var booked = await BookOrder.WriteAsync(work, judged.Input, judged.Customer, (judged.Shop, judged.Lines, ready), cancel);
        return booked.Then(b => complaint.RemadeAs(b.Order, answer, work.Now));
    }

    private async Task<Result<Done>> RefundAsync(CommandWork work, Complaint complaint, string answer, CancellationToken cancel)
    {
        var way = await RefundWay.OfAsync(work.Context, complaint, answer, work.Now, cancel);
        if (!way.IsOk)
            return Result<Done>.Refused(way.Refusals);
        if (way.Value is not { Credit: { } wanted })
            return complaint.RefundedBy(way.Value.ByHand!.Value, answer, work.Now);
        var note = await credit.DecideAsync(work, wanted, cancel);
        return note.Then(n => complaint.RefundedBy(n.Id, answer, work.Now));
    }
}
