using System.Net;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Sending;

/// <summary>A webhook as typed.</summary>
/// <param name="Id">The one to change; null: a new one.</param>
/// <param name="Url">Where to.</param>
/// <param name="Events">Which events; none: all.</param>
/// <param name="IsActive">False: nothing is sent.</param>
/// <param name="NewSecret">Make a new secret; the old one signs too for two days.</param>
public sealed record WebhookInput(Guid? Id, string Url, IReadOnlyList<string> Events, bool IsActive = true, bool NewSecret = false);

/// <summary>What a change answers.</summary>
/// <param name="Secret">A new secret, shown this once; null when there is none.</param>
public sealed record WebhookKept(Guid Id, string? Secret);

/// <summary>Adds or changes an address that is told of order events.</summary>
public sealed class ChangeWebhook(CommandRunner runner, SecretBox secrets, HostSettings host) : IUseCase
{
    internal const string Changed = "webhook changed";
    internal const string NewSecret = "webhook changed, new secret";

    /// <summary>Does it. The secret is made outside the command, so that neither journal nor command list ever hold it.</summary>
    public async Task<Result<WebhookKept>> RunAsync(Asked asked, WebhookInput input, CancellationToken cancel = default)
    {
        var secret = input.Id is null || input.NewSecret ? HookSignature.NewSecret() : null;
        var ran = false;
        var done = await runner.RunAsync<WebhookInput, WebhookKept>(
            nameof(ChangeWebhook),
            Allowed.Owner,
            asked,
            input,
            work =>
            {
                ran = true;
                return DecideAsync(work, input, secret is null ? null : secrets.Close(secret), cancel);
            },
            cancel
        );
        // Asked a second time, the secret just made is not the one that was kept.
        return done.Then(kept => Result<WebhookKept>.Ok(kept with { Secret = ran ? secret : null }));
    }

    private async Task<Result<WebhookKept>> DecideAsync(CommandWork work, WebhookInput input, string? closed, CancellationToken cancel)
    {
        if (input.Events.Except(OrderNews.All, StringComparer.Ordinal).Any())
            return new Refusal("webhook-events", "There is no such event.", nameof(input.Events));
        if (!host.WebhooksInside && input.Url.TrimStart().StartsWith("http:", StringComparison.OrdinalIgnoreCase))
            return new Refusal("webhook-https", "Only https is called: what is sent must not be read on the way.", nameof(input.Url));
        if (!host.WebhooksInside && input.IsActive && IsInside(input.Url))
            return new Refusal(
                "webhook-inside",
                "This address lies in a private network, which is never called: give one of the open internet.",
                nameof(input.Url)
            );
        var hook = input.Id is { } id ? await work.Context.Webhooks.FirstOrDefaultAsync(h => h.Id == id, cancel) : null;
        if (input.Id is not null && hook is null)
            return new Refusal("webhook-missing", "This webhook is no longer there.");
        var before = hook is null ? "" : Words(hook);
        if (hook is null)
            work.Context.Webhooks.Add(hook = new Webhook(Guid.CreateVersion7(), closed!, work.Now));
        else if (closed is not null)
            hook.Rotate(closed, work.Now);
        var changed = hook.Change(input.Url, input.Events, input.IsActive);
        if (!changed.IsOk)
            return Result<WebhookKept>.Refused(changed.Refusals);
        work.Audit(closed is null ? Changed : NewSecret, hook.Url, before, Words(hook));
        work.Touch(Topic.Outbox, hook.Id);
        return new WebhookKept(hook.Id, null);
    }

    // What can be told without asking the network; a name that leads inside is found when it is called.
    private static bool IsInside(string url) =>
        Uri.TryCreate(url.Trim(), UriKind.Absolute, out var to)
        && (
            IPAddress.TryParse(to.DnsSafeHost, out var address)
                ? OutsideOnly.IsInside(address)
                : !to.Host.Contains('.', StringComparison.Ordinal)
                    || Array.Exists(
                        [".local", ".localhost", ".internal", ".home.arpa"],
                        e => to.Host.EndsWith(e, StringComparison.OrdinalIgnoreCase)
                    )
        );

    private static string Words(Webhook hook) =>
        $"{hook.Url}; {(hook.Events.Count == 0 ? "all events" : string.Join(", ", hook.Events))}; {(hook.IsActive ? "on" : "off")}";
}
