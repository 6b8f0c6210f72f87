namespace ShopFloor.Benchmarks.Circuits;

/// <summary>What kills under load have shown.</summary>
/// <param name="Rounds">How many kills.</param>
/// <param name="Confirmed">Moves that the server had confirmed.</param>
/// <param name="Lost">Of them not in the database afterwards.</param>
/// <param name="Doubled">Commands that wrote the same event twice for a piece.</param>
/// <param name="Different">Pieces whose journal replays to another state than the tables hold.</param>
/// <param name="File">What SQLite says of the file.</param>
/// <param name="Restarts">From each kill until the server, started again at once, answered, seconds.</param>
internal sealed record KillOutcome(
    int Rounds,
    int Confirmed,
    int Lost,
    int Doubled,
    int Different,
    string File,
    IReadOnlyList<double> Restarts
)
{
    public bool IsSound => Lost + Doubled + Different == 0 && File == "ok";

    public override string ToString() =>
        FormattableString.Invariant(
            $"{Rounds} rounds: {Confirmed} confirmed moves, {Lost} lost, {Doubled} doubled, {Different} not as replayed, file {File}; answers again {At(0.5):0.0} s after a kill in the median, {At(0.95):0.0} s at the 95th percentile, {At(1):0.0} s at most"
        );

    private double At(double share) =>
        Restarts.Count == 0 ? 0 : Restarts.Order().ElementAt(Math.Min(Restarts.Count - 1, (int)(Restarts.Count * share)));
}

/// <summary>
/// Kills the server at random moments while several people tap, again and again: no confirmed move may be lost, none done twice, and the
/// journal must replay to the state that the tables hold.
/// </summary>
internal static class KillRounds
{
    private sealed record Sent(Guid Command, object Fields, bool? Ok);

    /// <summary>Runs until something is wrong or all rounds are done.</summary>
    public static async Task<KillOutcome> RunAsync(ServerProcess server, int rounds, int people, int seed, Action<string> say)
    {
        var random = new Random(seed);
        await server.StartAsync();
        await server.KillAsync();
        IReadOnlyList<string> codes;
        await using (var shop = new LoadShop(server.Folder))
            codes = await shop.AddOwnPiecesAsync(people * 12);
        say(FormattableString.Invariant($"seed {seed}, {people} people, {codes.Count} pieces"));
        var (outcome, open) = (new KillOutcome(0, 0, 0, 0, 0, "ok", []), new List<Sent>());
        await server.StartAsync();
        while (outcome.Rounds < rounds && outcome.IsSound)
        {
            var sent = await TapUntilKilledAsync(server, codes, people, open, random);
            // Started again at once, as the service manager does, and looked at while it runs: nobody taps now.
            var back = await server.StartAsync();
            outcome = await CheckAsync(server.Folder, outcome, sent, back);
            open = sent.FindAll(s => s.Ok is null);
            if (outcome.Rounds % 10 == 0 || !outcome.IsSound)
                say(outcome.ToString());
        }
        return outcome;
    }

    private static async Task<KillOutcome> CheckAsync(string folder, KillOutcome before, List<Sent> sent, TimeSpan back)
    {
        await using var shop = new LoadShop(folder);
        var kept = await shop.CommandsAsync();
        var mine = sent.Select(s => s.Command).ToHashSet();
        var entries = (await shop.EntriesAsync()).Where(e => mine.Contains(e.Command));
        return new KillOutcome(
            before.Rounds + 1,
            before.Confirmed + sent.Count(s => s.Ok == true),
            sent.Count(s => s.Ok == true && !kept.Contains(s.Command)),
            entries.GroupBy(e => e).Count(g => g.Count() > 1),
            (await shop.DifferentAfterReplayAsync()).Count,
            await shop.IntegrityAsync(),
            [.. before.Restarts, back.TotalSeconds]
        );
    }

    private static async Task<List<Sent>> TapUntilKilledAsync(
        ServerProcess server,
        IReadOnlyList<string> codes,
        int people,
        IReadOnlyList<Sent> again,
        Random random
    )
    {
        var seeds = Enumerable.Range(0, people).Select(_ => random.Next()).ToList();
        var visitors = await Task.WhenAll(seeds.Select(_ => Visitor.EnterAsync(server.Address, "bench")));
        using var stop = new CancellationTokenSource();
        var progress = new Progressing(random.Next(4, 60));
        var work = visitors
            .Select(
                (v, i) => TapAsync(v, [.. codes.Skip(i * 12).Take(12)], i == 0 ? again : [], new Random(seeds[i]), progress, stop.Token)
            )
            .ToList();
        // After so many answers, and then at any moment of the next ones.
        await Task.WhenAny(progress.Reached, Task.Delay(TimeSpan.FromSeconds(30)));
        await Task.Delay(random.Next(0, 120));
        await server.KillAsync();
        await stop.CancelAsync();
        var sent = (await Task.WhenAll(work)).SelectMany(s => s).ToList();
        foreach (var visitor in visitors)
            visitor.Dispose();
        return sent;
    }

    // Start, finish and undo go round: the same pieces serve for every round. What had no answer before the kill is sent again under its
    // id, as the page does.
    private static async Task<List<Sent>> TapAsync(
        Visitor visitor,
        string[] codes,
        IReadOnlyList<Sent> again,
        Random random,
        Progressing progress,
        CancellationToken stop
    )
    {
        var sent = new List<Sent>();
        var waiting = new Queue<Sent>(again);
        while (!stop.IsCancellationRequested)
        {
            var tap = waiting.TryDequeue(out var before) ? before : New(codes, random);
            try
            {
                var answer = await visitor.TapAsync(tap.Command, tap.Fields);
                sent.Add(tap with { Ok = answer.Ok });
                progress.Answered();
            }
            catch (HttpRequestException)
            {
                sent.Add(tap);
                break;
            }
        }
        return sent;
    }

    // Counts answers until the wanted number is reached.
    private sealed class Progressing(int wanted)
    {
        private readonly TaskCompletionSource reached = new(TaskCreationOptions.RunContinuationsAsynchronously);
        private int count;

        internal Task Reached => reached.Task;

        internal void Answered()
        {
            if (Interlocked.Increment(ref count) >= wanted)
                reached.TrySetResult();
        }
    }

    private static Sent New(string[] codes, Random random)
    {
        var code = codes[random.Next(codes.Length)];
        object fields = random.Next(4) switch
        {
            0 => new
            {
                move = "start",
                code,
                step = 2,
            },
            1 => new
            {
                move = "finish",
                code,
                step = 2,
            },
            2 => new
            {
                move = "start",
                code,
                step = 3,
                decision = new { choice = "goOn", reason = "judged by eye" },
            },
            _ => new { move = "undo", code },
        };
        return new Sent(Guid.CreateVersion7(), fields, null);
    }
}
