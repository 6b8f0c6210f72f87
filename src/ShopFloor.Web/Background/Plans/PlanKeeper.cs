using System.Text;
using System.Threading.Channels;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using ShopFloor.Data;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// Keeps the published plan true to the shop: after a change it waits a moment for more, plans on one thread of its own with low
/// priority, has the plan checked, publishes it, and looks for a better one until something changes again.
/// </summary>
public sealed partial class PlanKeeper(
    IDbContextFactory<ShopContext> contexts,
    IServiceScopeFactory scopes,
    Notifier notifier,
    PlanDesk desk,
    IOptions<HostSettings> hosting,
    TimeProvider time,
    ILogger<PlanKeeper> logger
) : BackgroundService
{
    private static readonly Topic[] Causes =
    [
        Topic.Piece,
        Topic.Batch,
        Topic.Order,
        Topic.Station,
        Topic.Stock,
        Topic.Person,
        Topic.Settings,
    ];

    /// <summary>From a change to the plan for it: more changes mostly follow.</summary>
    public static readonly TimeSpan Quiet = TimeSpan.FromMilliseconds(600);
    private static readonly TimeSpan AnywayAfter = TimeSpan.FromMinutes(5);

    /// <summary>Rounds of each search, one after another while nothing moves: a quick one, then longer ones.</summary>
    private static readonly int[] Stages = [12, 96, 384, 1_536, 6_144];

    private readonly Channel<bool> wishes = Channel.CreateBounded<bool>(
        new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite }
    );
    private CancellationTokenSource moved = new();

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var hearing = notifier.Subscribe(Causes, _ => Wish());
        Wish();
        while (!stoppingToken.IsCancellationRequested)
        {
            await WaitAsync(stoppingToken);
            // One fault must not end planning for good: it is logged, shown, and the next change tries again.
            try
            {
                await PlanAsync(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception fault) when (fault is not OperationCanceledException || !stoppingToken.IsCancellationRequested)
            {
                LogFault(logger, fault);
                desk.Show(
                    desk.Status with
                    {
                        State = PlannerState.Refused,
                        Text = "The planner failed on this day. The last plan stays; the log says more.",
                    }
                );
            }
        }
    }

    private void Wish()
    {
        moved.Cancel();
        wishes.Writer.TryWrite(true);
    }

    private async Task WaitAsync(CancellationToken stop)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(stop);
        limit.CancelAfter(AnywayAfter);
        try
        {
            await wishes.Reader.ReadAsync(limit.Token);
            await Task.Delay(Quiet, time, stop);
        }
        catch (OperationCanceledException) when (!stop.IsCancellationRequested) { }
        while (wishes.Reader.TryRead(out _)) { }
    }

    private async Task PlanAsync(CancellationToken stop)
    {
        moved = new CancellationTokenSource();
        desk.Show(desk.Status with { State = PlannerState.Planning, Round = 0, Rounds = 0, Text = "" });
        var shop = await ReadAsync(stop);
        if (!desk.TakeAsked() && StandingPlan.Holds(shop, DayFromShop.Make(shop)))
        {
            desk.Show(desk.Status with { State = PlannerState.Resting });
            return;
        }
        var (day, plan, usesRunning) = await PlannerThread.RunAsync(() =>
            WaitReserve.First(uses => DayFromShop.Make(shop, usesRunning: uses))
        );
        if (!await PublishAsync(shop, day, plan, "after a change", stop) || day.Pieces.Count == 0)
            return;
        using var until = CancellationTokenSource.CreateLinkedTokenSource(stop, moved.Token, desk.Begin());
        foreach (var rounds in Stages.TakeWhile(r => r < hosting.Value.PlanRounds).Append(hosting.Value.PlanRounds))
            if (!until.IsCancellationRequested)
                plan = await ImproveAsync(plan, rounds, usesRunning, until.Token, stop);
        if (desk.Status.State != PlannerState.Refused)
            desk.Show(desk.Status with { State = PlannerState.Resting, Value = plan.Objective.Value, Bound = plan.Objective.Bound });
    }

    private async Task<ShopSnapshot> ReadAsync(CancellationToken stop)
    {
        await using var context = await contexts.CreateDbContextAsync(stop);
        return await ShopSnapshot.ReadAsync(context, time.GetUtcNow(), stop);
    }

    /// <summary>Searches longer and publishes what is better by more than one moved step, those that it moves counted; the plan that stands then.</summary>
    private async Task<Plan> ImproveAsync(Plan standing, int rounds, bool usesRunning, CancellationToken until, CancellationToken stop)
    {
        var (value, bound) = (standing.Objective.Value, standing.Objective.Bound);
        desk.Show(new PlannerStatus(PlannerState.Improving, 0, rounds, value, bound, ""));
        var shop = await ReadAsync(stop);
        var day = DayFromShop.Make(shop, usesRunning: usesRunning);
        var options = new PlanOptions { Rounds = rounds, Chains = 1 };
        void Progress(PlanProgress p) => desk.Show(new PlannerStatus(PlannerState.Improving, p.Round, p.Rounds, p.Value, p.Bound, ""));
        var better = await PlannerThread.RunAsync<Plan, PlanProgress>(tell => DayPlanner.Plan(day, options, until, tell), Progress);
        return
            !moved.IsCancellationRequested
            && BetterPlan.Is(better, standing, day)
            && await PublishAsync(shop, day, better, "a better plan for the same day", stop)
            ? better
            : standing;
    }

    private async Task<bool> PublishAsync(ShopSnapshot shop, Day day, Plan plan, string note, CancellationToken stop)
    {
        await using var scope = scopes.CreateAsyncScope();
        var publish = scope.ServiceProvider.GetRequiredService<PublishPlan>();
        var input = new PlanInput(
            shop.Now,
            shop.Journal,
            Encoding.UTF8.GetString(DayWriter.Write(day)),
            Encoding.UTF8.GetString(PlanWriter.Write(plan)),
            note
        );
        var done = await publish.RunAsync(Asked.BySystem(), input, stop);
        var (state, text) = done.IsOk ? (PlannerState.Improving, "") : (PlannerState.Refused, done.Refusals[0].Text);
        if (!done.IsOk && done.Refusals[0].Code == "plan-stale")
            wishes.Writer.TryWrite(true);
        else if (!done.IsOk)
            LogBroken(logger, text);
        desk.Show(new PlannerStatus(state, 0, 0, plan.Objective.Value, plan.Objective.Bound, text));
        return done.IsOk;
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "A plan was not published: {Reason}")]
    private static partial void LogBroken(ILogger logger, string reason);

    [LoggerMessage(Level = LogLevel.Error, Message = "Planning failed")]
    private static partial void LogFault(ILogger logger, Exception fault);
}
