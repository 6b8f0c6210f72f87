using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Sending;

/// <summary>Sends a mail at once with the settings as saved, so that the owner sees whether they are right. Changes nothing here.</summary>
public sealed class TryMail(IDbContextFactory<ShopContext> contexts, MailCarrier carrier, TimeProvider time) : IErrand
{
    /// <summary>Sends to that address; the refusal says what the server answered.</summary>
    public async Task<Result<Done>> RunAsync(string to, CancellationToken cancel = default)
    {
        if (!to.Contains('@', StringComparison.Ordinal))
            return new Refusal("mail-to", "Enter the address that the test goes to.", "TestTo");
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var content = new MailContent(
            to.Trim(),
            "",
            $"Test from {settings.Profile.Name}",
            "This is a test.\n\nThe mail settings of the workshop are right."
        );
        var password = await MailCarrier.PasswordAsync(context, time.GetUtcNow(), cancel);
        var carried = await carrier.SendAsync(settings, password, Guid.CreateVersion7(), content, attached: null, cancel);
        return carried.End == CarryEnd.Taken ? default(Done) : new Refusal("mail-failed", $"The test did not go out. {carried.Why}");
    }
}
