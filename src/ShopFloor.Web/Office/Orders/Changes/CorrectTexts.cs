using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>What shall stand on the pieces of a line.</summary>
/// <param name="Order">The order.</param>
/// <param name="SeenVersion">As the page showed it.</param>
/// <param name="Line">The line's number.</param>
/// <param name="Texts">One for all pieces, one for each, or none.</param>
public sealed record TextsInput(OrderId Order, int SeenVersion, int Line, IReadOnlyList<string> Texts);

/// <summary>Puts the texts of a booked line right until they are printed; what was approved has to be approved anew.</summary>
public sealed class CorrectTexts(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, TextsInput input, CancellationToken cancel = default) =>
        runner.RunAsync<TextsInput, Done>(
            nameof(CorrectTexts),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, TextsInput input, CancellationToken cancel)
    {
        var found = await SeenOrder.FindAsync(work, (input.Order, input.SeenVersion), cancel);
        if (!found.IsOk)
            return Result<Done>.Refused(found.Refusals);
        var order = found.Value;
        if (order.Lines.FirstOrDefault(l => l.Number == input.Line) is not { } line)
            return new Refusal("line-missing", $"The order has no line {input.Line}.");
        IReadOnlyList<string> texts = [.. input.Texts.Select(t => t.Trim()).Where(t => t.Length > 0)];
        if (texts.SequenceEqual(line.Texts, StringComparer.Ordinal))
            return new Refusal("text-same", "This is the text that the line has already.", "texts");
        var faults = LineFaults.OfTexts(texts, line.Quantity);
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        var before = Words(line.Texts);
        var done = order.Reword(line.Number, texts, await SeenOrder.PiecesAsync(work, line.Id, cancel));
        if (done.IsOk)
            work.Audit(
                SeenOrder.TextChanged,
                SeenOrder.Subject(order),
                $"line {line.Number}: {before}",
                $"line {line.Number}: {Words(texts)}"
            );
        return done;
    }

    private static string Words(IReadOnlyList<string> texts) => texts.Count == 0 ? "no text" : string.Join(" | ", texts);
}
