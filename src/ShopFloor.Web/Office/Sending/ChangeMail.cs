using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Sending;

/// <summary>The mail settings as typed.</summary>
/// <param name="Settings">All but the password.</param>
/// <param name="Password">A new password; null: the one there is stays.</param>
public sealed record MailInput(MailSettings Settings, string? Password);

/// <summary>Changes how and what the workshop mails. The password is closed before it goes anywhere, and no list shows it.</summary>
public sealed class ChangeMail(CommandRunner runner, SecretBox secrets) : IUseCase
{
    private sealed record ClosedInput(MailSettings Settings, string? Password);

    /// <summary>Changes it, or names every field that is wrong.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, MailInput input, CancellationToken cancel = default)
    {
        var closed = new ClosedInput(input.Settings, input.Password is { } password ? secrets.Close(password) : null);
        return runner.RunAsync<MailSettings, Done>(
            nameof(ChangeMail),
            Allowed.Owner,
            asked,
            input.Settings,
            work => DecideAsync(work, closed, cancel),
            cancel
        );
    }

    private static async Task<Result<Done>> DecideAsync(CommandWork work, ClosedInput input, CancellationToken cancel)
    {
        var faults = input.Settings.Check();
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        if (await SenderMissingAsync(work, input.Settings, cancel) is { } missing)
            return missing;
        await work.KeepAsync(SettingKeys.Mail, input.Settings, cancel);
        if (input.Password is { } closed)
        {
            await work.DropLaterAsync(SettingKeys.MailPassword, cancel);
            work.Context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), SettingKeys.MailPassword, work.Now, closed, work.By));
            work.Audit(KeepSetting.Changed, SettingKeys.MailPassword, "", "(not shown)");
        }
        return default(Done);
    }

    private static async Task<Refusal?> SenderMissingAsync(CommandWork work, MailSettings mail, CancellationToken cancel)
    {
        if (mail.Host.Length == 0)
            return null;
        var profile = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Profile;
        return MailCarrier.SenderOf(mail, profile) is not null
            ? null
            : new Refusal(
                "mail-settings",
                mail.From.Length > 0
                    ? "No mail can come from this address. Enter another one."
                    : "Enter the address that mails come from: the workshop has no e-mail address.",
                nameof(mail.From)
            );
    }
}
