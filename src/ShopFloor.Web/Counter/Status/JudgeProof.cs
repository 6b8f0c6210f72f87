using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Status;

/// <summary>What a customer says of the proof.</summary>
/// <param name="Approved">True: print it.</param>
/// <param name="Words">What shall be different.</param>
/// <param name="Seen">The stamp of what the page showed.</param>
public sealed record ProofWord(bool Approved, string Words, string Seen);

/// <summary>A customer says whether the picture may be printed.</summary>
public sealed class JudgeProof(CommandRunner runner) : IUseCase
{
    /// <summary>Longest wish.</summary>
    public const int MostWords = 500;

    /// <summary>Approves, or says what shall be different.</summary>
    /// <param name="command">Made with the page, so that a double tap counts once.</param>
    /// <param name="token">The secret of the link.</param>
    /// <param name="word">What is said.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<Result<Done>> RunAsync(Guid command, string token, ProofWord word, CancellationToken cancel = default) =>
        runner.RunAsync<object, Done>(
            nameof(JudgeProof),
            Allowed.WithLink,
            Asked.ByLink(command),
            new { link = StatusToken.HashOf(token), word },
            work => DecideAsync(work, token, word with { Words = word.Words.Trim() }, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, string token, ProofWord word, CancellationToken cancel)
    {
        var (approved, words, seen) = word;
        if (await StatusView.FindLivingAsync(work.Context, token, work.Now, cancel) is not { } order)
            return new Refusal("link-gone", "This link is no longer good.");
        if (order.CancelledAt is not null)
            return new Refusal("order-cancelled", "This order was called off.");
        if (!approved && words.Length is 0 or > MostWords)
            return new Refusal("words-missing", "Please say in at most 500 characters what shall be different.", "words");
        if (seen != ProofStamp.Of(order))
            return new Refusal(CommandWork.ChangedCode, "Something has changed since you looked. Please look at it again, then answer.");
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
