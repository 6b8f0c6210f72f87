using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Status;

/// <summary>A customer says whether the picture may be printed.</summary>
public sealed class JudgeProof(CommandRunner runner) : IUseCase
{
    /// <summary>Longest wish.</summary>
    public const int MostWords = 500;

    /// <summary>Approves, or says what shall be different.</summary>
    /// <param name="command">Made with the page, so that a double tap counts once.</param>
    /// <param name="token">The secret of the link.</param>
    /// <param name="approved">True: print it.</param>
    /// <param name="words">What shall be different.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<Result<Done>> RunAsync(Guid command, string token, bool approved, string words, CancellationToken cancel = default) =>
        runner.RunAsync<object, Done>(
            nameof(JudgeProof),
            Allowed.WithLink,
            Asked.ByLink(command),
            new { approved, words },
            work => DecideAsync(work, token, approved, words.Trim(), cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(
        CommandWork work,
        string token,
        bool approved,
        string words,
        CancellationToken cancel
    )
    {
        if (await StatusView.FindAsync(work.Context, token, cancel) is not { } order)
            return new Refusal("link-gone", "This link is no longer good.");
        if (order.CancelledAt is not null)
            return new Refusal("order-cancelled", "This order was called off.");
        if (!approved && words.Length is 0 or > MostWords)
            return new Refusal("words-missing", "Please say in at most 500 characters what shall be different.", "words");
        work.Touch(Topic.Order, order.Id.Value);
        var judged = order.JudgeProof(approved, approved ? "approved by the customer" : words);
        if (judged.IsOk)
            await QuestionMail.ToWorkshopAsync(
                work,
                order,
                approved ? "the customer has approved the picture" : "the customer wants the picture changed",
                words,
                cancel
            );
        return judged;
    }
}
