namespace ShopFloor.Benchmarks.Circuits;

/// <summary>A customer who orders one plate at the Counter, tap by tap, each timed until the server has dealt with it.</summary>
/// <param name="client">At the first step.</param>
/// <param name="timings">Where durations go.</param>
/// <param name="pause">From one tap to the next, on the average; each is between half and one and a half of it.</param>
/// <param name="pace">Draws the pauses.</param>
internal sealed class CounterWalk(CircuitClient client, Timings timings, TimeSpan pause, Random pace)
{
    /// <summary>Begins an order by the form of the first page and opens its circuit at the first step.</summary>
    public static async Task<CircuitClient> BeginAsync(BrowserSession session)
    {
        var (_, where) = await session.SubmitAsync("counter", new() { ["own"] = "true" }, "counter/begin");
        return await CircuitClient.OpenAsync(session, where.PathAndQuery);
    }

    /// <summary>From the first step to the booked order.</summary>
    public async Task OrderAsync()
    {
        await ChooseAsync("material", "Stainless steel");
        await ChooseAsync("form", "Flat");
        await TickAsync("hidden-none");
        await ContinueAsync("How large is it?");
        await TypeAsync("width", "90");
        await TypeAsync("height", "60");
        await TypeAsync("thickness", "1,2");
        await TypeAsync("value", "45");
        await ContinueAsync("What shall be on it?");
        await TickAsync("later");
        await TypeAsync("text", "Harbour light");
        await ContinueAsync("How shall it look?");
        await ChooseAsync("finish", "White ground");
        await timings.MeasureAsync("price and date after a change", () => client.UntilAsync(IsPriced));
        await ContinueAsync("Who is it for?");
        await TypeAsync("name", "Ines Hollow");
        await TypeAsync("email", "ines@example.test");
        await TickAsync("contactAgreed");
        await ContinueAsync("Is everything right?");
        await TickAsync("risk");
        await timings.MeasureAsync("until it can be booked", () => client.UntilAsync(p => p.Control("book") is not null));
        await ActAsync("book", () => client.PressAsync(client.Page.Control("book")!));
        await client.UntilAsync(_ => client.Where.AbsolutePath.Contains("/ticket/", StringComparison.Ordinal));
    }

    private static bool IsPriced(CircuitPage page) =>
        page.Control("price-day") is not null && page.Find(n => n.Own == "Price and date are being computed …") is null;

    private Task ChooseAsync(string group, string words)
    {
        var choices = client.Page.Find(n => n.Element == "fieldset" && n.Attributes.GetValueOrDefault("id") == group);
        var card = choices?.All().FirstOrDefault(n => n.Element == "label" && n.Words.StartsWith(words, StringComparison.Ordinal));
        var radio = card?.All().First(n => n.Element == "input") ?? throw new InputFault($"No choice '{words}' in '{group}'.");
        return ActAsync("choose", () => client.EnterAsync(radio, "on"));
    }

    private Task TypeAsync(string field, string text) => ActAsync("type", () => client.EnterAsync(Control(field), text));

    private Task TickAsync(string box) => ActAsync("tick", () => client.TickAsync(Control(box), on: true));

    private Task ContinueAsync(string next) =>
        ActAsync(
            $"to “{next}”",
            async () =>
            {
                await client.PressAsync(Control("continue"));
                await client.UntilAsync(p => p.Heading == next);
            }
        );

    private async Task ActAsync(string name, Func<Task> act)
    {
        await Task.Delay(pause * (0.5 + pace.NextDouble()));
        await timings.MeasureAsync(name, act);
    }

    private CircuitNode Control(string name) =>
        client.Page.Control(name) ?? throw new InputFault($"'{client.Page.Heading}' has no '{name}'.");
}
