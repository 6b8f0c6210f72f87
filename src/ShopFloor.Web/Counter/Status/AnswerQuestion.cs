using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Status;

/// <summary>A customer answers a question of the workshop.</summary>
public sealed class AnswerQuestion(CommandRunner runner) : IUseCase
{
    /// <summary>Answers it.</summary>
    /// <param name="command">Made with the page, so that a double tap counts once.</param>
    /// <param name="token">The secret of the link.</param>
    /// <param name="number">Which question.</param>
    /// <param name="words">The answer.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<Result<Done>> RunAsync(Guid command, string token, int number, string words, CancellationToken cancel = default) =>
        runner.RunAsync<object, Done>(
            nameof(AnswerQuestion),
            Allowed.WithLink,
            Asked.ByLink(command),
            new
            {
                link = StatusToken.HashOf(token),
                number,
                words,
            },
            work => DecideAsync(work, token, number, words, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, string token, int number, string words, CancellationToken cancel)
    {
        if (await StatusView.FindLivingAsync(work.Context, token, work.Now, cancel) is not { } order)
            return new Refusal("link-gone", "This link is no longer good.");
        work.Touch(Topic.Order, order.Id.Value);
        var answered = order.Answer(number, words, work.Now);
        if (answered.IsOk && order.Questions.First(q => q.Number == number) is { } question)
            await QuestionMail.ToWorkshopAsync(work, order, "the customer has answered", $"{question.Text}\n\n{question.Answer}", cancel);
        return answered;
    }
}
