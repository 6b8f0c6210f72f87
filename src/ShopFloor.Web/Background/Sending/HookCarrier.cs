using System.Net;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Background.Sending;

/// <summary>Calls a webhook: signed, without following redirects, into the open internet only.</summary>
public sealed class HookCarrier(IDbContextFactory<ShopContext> contexts, SecretBox secrets, TimeProvider time, HostSettings host)
    : ICarrier,
        IDisposable
{
    private readonly HttpClient client = OutsideOnly.Client(host.WebhooksInside);

    public string Kind => OutboxMessage.Hook;

    /// <inheritdoc />
    public async Task<Carried> CarryAsync(OutboxMessage message, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var hook = await context.Webhooks.AsNoTracking().FirstOrDefaultAsync(h => h.Id == message.Target, cancel);
        if (hook is not { IsActive: true })
            return new Carried(CarryEnd.Never, "This webhook is switched off or no longer there.");
        if (!host.WebhooksInside && !hook.Url.StartsWith("https:", StringComparison.Ordinal))
            return new Carried(CarryEnd.Never, "Only https is called.");
        return Keys(hook) is { } keys
            ? await CallAsync(hook.Url, message, keys, cancel)
            : new Carried(CarryEnd.Failed, "The secret can no longer be read: make a new one.");
    }

    public void Dispose() => client.Dispose();

    private List<string>? Keys(Webhook hook)
    {
        if (secrets.Open(hook.Secret) is not { } now)
            return null;
        List<string> keys = [now];
        if (hook.OldUntil > time.GetUtcNow() && secrets.Open(hook.OldSecret) is { Length: > 0 } old)
            keys.Add(old);
        return keys;
    }

    private async Task<Carried> CallAsync(string url, OutboxMessage message, List<string> keys, CancellationToken cancel)
    {
        var (id, timestamp) = (message.Id.ToString("N"), time.GetUtcNow().ToUnixTimeSeconds());
        using var request = new HttpRequestMessage(HttpMethod.Post, url)
        {
            Content = new StringContent(message.Json, Encoding.UTF8, "application/json"),
        };
        request.Headers.Add("webhook-id", id);
        request.Headers.Add("webhook-timestamp", timestamp.ToString(CultureInfo.InvariantCulture));
        request.Headers.Add("webhook-signature", HookSignature.Of(id, timestamp, message.Json, keys));
        try
        {
            using var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancel);
            return Judge(answer.StatusCode);
        }
        catch (HttpRequestException trouble)
        {
            return new Carried(CarryEnd.Failed, trouble.InnerException?.Message ?? trouble.Message);
        }
        // The client's own time limit, not the end of the program.
        catch (TaskCanceledException) when (!cancel.IsCancellationRequested)
        {
            return new Carried(CarryEnd.Failed, "No answer within 10 seconds.");
        }
    }

    private static Carried Judge(HttpStatusCode status) =>
        (int)status switch
        {
            >= 200 and < 300 => new Carried(CarryEnd.Taken),
            >= 300 and < 400 => new Carried(CarryEnd.Failed, $"Answered {(int)status}: redirects are not followed."),
            410 => new Carried(CarryEnd.Never, "Answered 410: gone for good."),
            _ => new Carried(CarryEnd.Failed, $"Answered {(int)status}."),
        };
}
