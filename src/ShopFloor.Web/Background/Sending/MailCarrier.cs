using System.Net.Sockets;
using System.Text.Json;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using Microsoft.EntityFrameworkCore;
using MimeKit;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Sending;

/// <summary>Hands mails to the workshop's mail server.</summary>
public sealed class MailCarrier(IDbContextFactory<ShopContext> contexts, SecretBox secrets, TimeProvider time) : ICarrier
{
    private const int TimeoutMs = 20_000;

    public string Kind => OutboxMessage.Mail;

    /// <inheritdoc />
    public async Task<Carried> CarryAsync(OutboxMessage message, CancellationToken cancel)
    {
        var content = JsonSerializer.Deserialize<MailContent>(message.Json, JsonForms.Default)!;
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (content.OnlyWhileReady && message.Order is { } order)
        {
            var pieces = await context.Pieces.Where(p => p.Order == order && !p.IsTest).Standing(context).ToListAsync(cancel);
            var stands = pieces.ConvertAll(p => p.Stand);
            // Whoever came for it would find it unpacked, and nobody may hand it over so.
            if (Readiness.IsStillToPack(stands))
                return new Carried(CarryEnd.NotYet);
            if (!Readiness.IsReady(stands))
                return new Carried(CarryEnd.Withdrawn);
        }
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var attached = content.Attached is { } id
            ? await context
                .Documents.AsNoTracking()
                .Where(d => d.Id == id)
                .Select(d => new MailAttachment(d.Number + ".pdf", d.Pdf))
                .FirstOrDefaultAsync(cancel)
            : content.File;
        return await SendAsync(settings, await PasswordAsync(context, time.GetUtcNow(), cancel), message.Id, content, attached, cancel);
    }

    /// <summary>Sends one mail now.</summary>
    public async Task<Carried> SendAsync(
        CurrentSettings settings,
        string? closedPassword,
        Guid id,
        MailContent content,
        MailAttachment? attached,
        CancellationToken cancel
    )
    {
        var mail = settings.Mail;
        if (mail.Host.Length == 0)
            return new Carried(CarryEnd.Failed, "No mail server is set.");
        if (secrets.Open(closedPassword ?? "") is not { } password)
            return new Carried(CarryEnd.Failed, "The mail password can no longer be read: enter it again.");
        // It says nothing against the customer's address: the mail goes out once the sender is put right.
        if (SenderOf(mail, settings.Profile) is not { } sender)
            return new Carried(CarryEnd.Failed, "The sender in the mail settings is no e-mail address.");
        try
        {
            using var built = Build(sender, id, content, attached);
            using var client = new SmtpClient { Timeout = TimeoutMs };
            await client.ConnectAsync(mail.Host, mail.Port, Options(mail.Line), cancel);
            if (mail.User.Length > 0)
                await client.AuthenticateAsync(mail.User, password, cancel);
            await client.SendAsync(built, cancel);
            await LeaveAsync(client);
            return new Carried(CarryEnd.Taken);
        }
        catch (ParseException wrong)
        {
            return new Carried(CarryEnd.Never, $"An address is wrong: {wrong.Message}");
        }
        catch (SmtpCommandException no) when (IsOfTheMailbox(no))
        {
            return new Carried(CarryEnd.Never, $"The mail server refuses: {(int)no.StatusCode} {no.Message}");
        }
        catch (Exception trouble)
            when (trouble
                    is SmtpCommandException
                        or SmtpProtocolException
                        or AuthenticationException
                        or SslHandshakeException
                        or ServiceNotAuthenticatedException
                        or NotSupportedException
                        or SocketException
                        or IOException
                        or TimeoutException
            )
        {
            return new Carried(CarryEnd.Failed, $"{trouble.GetType().Name}: {trouble.Message}");
        }
    }

    // The server has taken the mail: neither a stop of the program nor a line that is cut at the farewell may send it again.
    private static async Task LeaveAsync(SmtpClient client)
    {
        try
        {
            await client.DisconnectAsync(quit: true, CancellationToken.None);
        }
        catch (Exception cut) when (cut is ProtocolException or CommandException or SocketException or IOException or TimeoutException)
        {
            // It hangs up by itself.
        }
    }

    /// <summary>
    /// The server's "never" for this one mailbox: it is unknown or its name is no name (RFC 5321, 4.2.3: 550, 551, 553). Any other refusal, of
    /// the sender, the sign-in, relaying or how much is sent, is of the server (RFC 3463: X.7.X is policy) and would be said of every mail.
    /// </summary>
    private static bool IsOfTheMailbox(SmtpCommandException no) =>
        no.ErrorCode == SmtpErrorCode.RecipientNotAccepted
        && (int)no.StatusCode is 550 or 551 or 553
        && !no.Message.StartsWith("5.7.", StringComparison.Ordinal);

    /// <summary>The closed password as kept.</summary>
    public static Task<string?> PasswordAsync(ShopContext context, DateTimeOffset now, CancellationToken cancel) =>
        context
            .Settings.AsNoTracking()
            .Where(s => s.Key == SettingKeys.MailPassword && s.From <= now)
            .OrderByDescending(s => s.From)
            .ThenByDescending(s => s.Id)
            .Select(s => s.Json)
            .FirstOrDefaultAsync(cancel);

    /// <summary>Whom mails come from; null: neither the sender that was set nor the workshop's e-mail is an address.</summary>
    internal static MailboxAddress? SenderOf(MailSettings mail, WorkshopProfile profile)
    {
        var from = mail.From.Length > 0 ? mail.From : profile.Email;
        if (!MailboxAddress.TryParse(from, out var sender) || sender.Domain.Length == 0)
            return null;
        sender.Name = profile.Name;
        return sender;
    }

    private MimeMessage Build(MailboxAddress sender, Guid id, MailContent content, MailAttachment? attached)
    {
        var body = new BodyBuilder { TextBody = content.Text, HtmlBody = content.Html() };
        if (attached is not null)
            body.Attachments.Add(attached.Name, attached.Bytes, new ContentType("application", "pdf"));
        var built = new MimeMessage
        {
            Subject = content.Subject,
            Body = body.ToMessageBody(),
            Date = time.GetUtcNow(),
            MessageId = $"{id:N}@{sender.Domain}",
        };
        built.From.Add(sender);
        var to = MailboxAddress.Parse(content.To);
        to.Name = content.ToName;
        built.To.Add(to);
        // Says that a program wrote it, so that absence notes do not answer (RFC 3834).
        built.Headers.Add(HeaderId.AutoSubmitted, "auto-generated");
        return built;
    }

    private static SecureSocketOptions Options(MailLine line) =>
        line switch
        {
            MailLine.Tls => SecureSocketOptions.SslOnConnect,
            MailLine.Open => SecureSocketOptions.None,
            _ => SecureSocketOptions.StartTls,
        };
}

/// <summary>A file that goes along with a mail.</summary>
public sealed record MailAttachment(string Name, byte[] Bytes);
