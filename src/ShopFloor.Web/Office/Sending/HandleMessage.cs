using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Sending;

/// <summary>What to do with a message.</summary>
/// <param name="Message">Which.</param>
/// <param name="PutAway">True: it is not sent any more and leaves the list; false: it is sent again with its id.</param>
public sealed record MessageInput(Guid Message, bool PutAway);

/// <summary>Sends a message again, or puts one away that shall not go out.</summary>
public sealed class HandleMessage(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, MessageInput input, CancellationToken cancel = default) =>
        runner.RunAsync<MessageInput, Done>(
            nameof(HandleMessage),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, MessageInput input, CancellationToken cancel)
    {
        if (await work.Context.Outbox.FirstOrDefaultAsync(m => m.Id == input.Message, cancel) is not { } message)
            return new Refusal("message-missing", "This message is no longer there.");
        work.Touch(Topic.Outbox, message.Id);
        if (!input.PutAway)
            return message.SendAgain(work.Now);
        work.Context.Outbox.Remove(message);
        return default(Done);
    }
}
