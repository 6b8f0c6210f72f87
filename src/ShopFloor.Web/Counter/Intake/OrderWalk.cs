using ShopFloor.Domain;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>Which step comes when. A piece of the workshop has its size already, so its size is not asked.</summary>
public static class OrderWalk
{
    /// <summary>The steps of this order.</summary>
    public static IReadOnlyList<CounterStep> Steps(OrderEntry entry) =>
        [.. CounterSteps.All.Where(s => s != CounterStep.Size || entry.Line.IsOwn != false)];

    /// <summary>The step after.</summary>
    public static CounterStep? Next(OrderEntry entry, CounterStep step) =>
        Steps(entry).Select(s => (CounterStep?)s).FirstOrDefault(s => s > step);

    /// <summary>The step before.</summary>
    public static CounterStep? Before(OrderEntry entry, CounterStep step) =>
        Steps(entry).Select(s => (CounterStep?)s).LastOrDefault(s => s < step);

    /// <summary>The farthest step that may be opened: the first with something missing, or the last.</summary>
    public static CounterStep Farthest(OrderEntry entry, DateOnly today) =>
        Steps(entry).FirstOrDefault(s => StepFaults.Of(entry, s, today).Count > 0, CounterStep.Check);

    /// <summary>
    /// What can be priced: an added piece whose kind and size are not said yet leaves the price of the others as it is, and what hides inside
    /// and what is on it speak against nothing before it was asked. Nobody comes to book without these answers (<see cref="Farthest"/>).
    /// </summary>
    public static OrderEntry Known(OrderEntry entry)
    {
        var asked = Asked(entry);
        return asked with
        {
            Lines =
            [
                .. asked
                    .Lines.Select(l => l.HiddenAnswer == HiddenAnswer.NotYet ? l with { HiddenAnswer = HiddenAnswer.Nothing } : l)
                    .Select(l => l with { OldCoat = l.OldCoat ?? Domain.Materials.Answer.No }),
            ],
        };
    }

    private static OrderEntry Asked(OrderEntry entry) =>
        entry.At > 0
        && entry.At == entry.Lines.Count - 1
        && new[] { CounterStep.Piece, CounterStep.Size }.Any(s => StepFaults.Of(entry, s, default).Count > 0)
            ? entry.Without(entry.At)
            : entry;

    /// <summary>The line that a refusal of booking is about, counted from 0; null: the order as a whole.</summary>
    public static int? LineOf(Refusal refusal) =>
        refusal.Field?.Split('.') is ["lines", var index, ..]
        && int.TryParse(index, NumberStyles.None, CultureInfo.InvariantCulture, out var line)
            ? line
            : null;

    /// <summary>Where a refusal of booking is put right: the step that has its field.</summary>
    public static CounterStep StepOf(Refusal refusal) =>
        refusal.Field?.Split('.')[^1] switch
        {
            "material" or "form" or "own" or "blank" or "hidden" or "oldCoat" or "note" => CounterStep.Piece,
            "width" or "height" or "thickness" or "wall" or "corner" or "hole" or "area" or "face" or "value" => CounterStep.Size,
            "texts" or "text" or "list" or "picture" => CounterStep.Picture,
            "finish" or "quantity" or "wanted" or "rush" => CounterStep.Look,
            "name" or "email" or "phone" or "contactAgreed" or "customer" => CounterStep.You,
            _ => CounterStep.Check,
        };
}
