using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>Sends an offer by mail to whom it was made, with its paper.</summary>
public sealed class MailOffer(CommandRunner runner, Letterheads heads) : IUseCase
{
    /// <summary>What the keys of such mails begin with, before the entry and the offer's number.</summary>
    public static string KeyOf(Guid draft) => $"offer/{draft:N}/";

    /// <summary>Puts it into the outbox, once for each offer.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, Guid draft, CancellationToken cancel = default) =>
        runner.RunAsync<Guid, Done>(nameof(MailOffer), Allowed.Bench, asked, draft, work => DecideAsync(work, draft, cancel), cancel);

    /// <summary>Where the offer of an entry goes; empty: there is no address.</summary>
    internal static async Task<string> AddressAsync(ShopContext context, KeptOrder kept, CancellationToken cancel) =>
        kept.Entry.Customer is { } id
            ? await context.Customers.Where(c => c.Id == id && c.ErasedAt == null).Select(c => c.Contact.Email).FirstOrDefaultAsync(cancel)
                ?? ""
            : kept.Entry.Email.Trim();

    private async Task<Result<Done>> DecideAsync(CommandWork work, Guid draft, CancellationToken cancel)
    {
        var found = await DraftAccess.FindAsync(work, draft, cancel);
        if (!found.IsOk)
            return Result<Done>.Refused(found.Refusals);
        var kept = KeptOrder.Of(found.Value);
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        if (kept.Offer is not { } offer || offer.Until < settings.Day(work.Now))
            return new Refusal("offer-over", "There is no offer that still holds. Make it first.");
        // Who asks for an offer and gives an address is written to at it, whatever else was agreed.
        var to = await AddressAsync(work.Context, kept, cancel);
        if (settings.Mail.Host.Length == 0)
            return new Refusal("mail-none", "No mail server is set.");
        if (!Domain.Orders.Customer.LooksLikeMail(to))
            return new Refusal("no-address", "There is no e-mail address: print the offer.");
        var key = KeyOf(draft) + offer.Number;
        if (await work.Context.Outbox.AnyAsync(m => m.Key == key, cancel))
            return new Refusal("offer-sent", "This offer was given to the mail already. It stands under Sending in the Office.");
        var words = MailLanguages.Offer(offer.Language).Filled(offer.Name, offer.Number, settings.Profile.Name);
        var mail = new MailContent(to, offer.Name, words.Subject, words.Text)
        {
            File = new MailAttachment($"{offer.Number}.pdf", OfferPaper.Write(offer, settings, heads, work.Now)),
        };
        work.Context.Outbox.Add(
            new OutboxMessage(Guid.CreateVersion7(), OutboxMessage.Mail, JsonSerializer.Serialize(mail, JsonForms.Default), work.Now)
            {
                Key = key,
                Subject = $"Offer {offer.Number}",
            }
        );
        work.Touch(Topic.Outbox, draft);
        return default(Done);
    }
}
