using System.Resources;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>
/// A picture on a second side is pressed in a second session, which can spoil the first: nobody can price or promise it unasked. It becomes a
/// question to the customer with the booking, and nothing is printed before somebody approved.
/// </summary>
internal static class SecondSide
{
    private const string Question =
        "Line {0}: you want a picture on a second side, too. Which one, and on which side? How it is done and what it costs more is agreed with you before we begin.";

    private static readonly ResourceManager Said = new(typeof(CounterTexts));

    /// <summary>Asks for all lines that want one.</summary>
    public static async Task AskAsync(CommandWork work, Order order, OrderInput input, CancellationToken cancel)
    {
        var lines = input.Lines.Select((l, i) => (l.SecondSide, Number: i + 1)).Where(l => l.SecondSide).Select(l => l.Number).ToList();
        if (lines.Count == 0)
            return;
        var culture = LetterReader.Of(order.Language).Culture;
        var words = Said.GetResourceSet(culture, createIfNotExists: true, tryParents: false)?.GetString(Question) ?? Question;
        order.Ask(string.Format(CultureInfo.InvariantCulture, words, string.Join(", ", lines)), work.Now);
        order.AskForProof();
        await QuestionMail.ToCustomerAsync(work, order, cancel);
    }
}
