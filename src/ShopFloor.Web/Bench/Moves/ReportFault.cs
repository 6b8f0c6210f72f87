using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>A fault as it was reported.</summary>
/// <param name="Target">On what.</param>
/// <param name="Fault">Key in the list of faults.</param>
/// <param name="Note">In the person's words.</param>
/// <param name="Follows">What is done with the piece.</param>
/// <param name="Photo">A photo.</param>
public sealed record FaultReport(Target Target, string Fault, string Note, TimeDecision Follows, PictureId? Photo = null);

/// <summary>Notes a fault and does at once what follows from it: go on, rework from a step, test, put aside, spoiled.</summary>
public sealed class ReportFault(CommandRunner runner) : IUseCase
{
    public Task<Result<Moved>> RunAsync(Asked asked, FaultReport report, CancellationToken cancel = default) =>
        runner.RunAsync<FaultReport, Moved>(
            nameof(ReportFault),
            Allowed.Bench,
            asked,
            report,
            work => DecideAsync(work, report, cancel),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, FaultReport report, CancellationToken cancel)
    {
        var found = await Chosen.FindAsync(
            work.Context,
            report.Target,
            p => !p.State.IsEnd() && p.State != PieceState.Booked && report.Target.IsAbout(p),
            "in the workshop",
            cancel
        );
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        // A batch whose last running member leaves it this way is over too.
        var batches = RunBatch.Of(found.Value);
        var most = await ReworkLimit.OfAsync(work, report.Follows, cancel);
        foreach (var piece in found.Value)
        {
            // What is put aside stays in its round to the end.
            if (report.Follows.Choice is TimeChoice.Spoil or TimeChoice.Rework)
                await SprayStock.PostBrokenOffAsync(work, piece);
            var noted = work.Happen(piece, piece.Fault(report.Fault, report.Note, work.Now, report.Photo));
            var followed = noted.IsOk ? Follow(work, piece, report, most) : noted;
            if (!followed.IsOk)
                return Result<Moved>.Refused(ManyMoves.Named(piece, followed.Refusals));
        }
        var moved = ManyMoves.Say(found.Value, Words(report));
        foreach (var batch in batches)
            moved = moved with { Text = moved.Text + await RunBatch.CloseIfOverAsync(work, batch, work.Now) };
        return moved;
    }

    private static Result<Done> Follow(CommandWork work, Piece piece, FaultReport report, int mostReworks)
    {
        var reason = report.Follows.Reason.Length > 0 ? report.Follows.Reason : FaultList.Find(report.Fault)?.Name ?? report.Fault;
        return report.Follows.Choice == TimeChoice.GoOn
            ? default(Done)
            : work.Happen(piece, piece.Follow(report.Follows with { Reason = reason }, work.Now, mostReworks));
    }

    private static string Words(FaultReport report) =>
        report.Follows.Choice switch
        {
            TimeChoice.GoOn => "noted; work goes on",
            TimeChoice.Rework => $"back to step {report.Follows.Step}",
            TimeChoice.Spoil => "spoiled",
            TimeChoice.Test => "put aside until a test is done",
            _ => "put aside",
        };
}
