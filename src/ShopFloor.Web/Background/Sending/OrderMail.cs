using System.Net;
using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Sending;

/// <summary>A mail as the outbox keeps it.</summary>
/// <param name="To">Address.</param>
/// <param name="ToName">Name.</param>
/// <param name="Subject">One line.</param>
/// <param name="Text">Plain text; the HTML part is made from it.</param>
/// <param name="OnlyWhileReady">Withdrawn when the order is not ready any more at the time of sending.</param>
/// <param name="Attached">A kept document whose PDF goes along.</param>
public sealed record MailContent(string To, string ToName, string Subject, string Text, bool OnlyWhileReady = false, Guid? Attached = null)
{
    /// <summary>A file that goes along and is kept nowhere else, such as the paper of an offer; null: none.</summary>
    public MailAttachment? File { get; init; }

    /// <summary>The same words as HTML: paragraphs and line ends, nothing loaded from anywhere.</summary>
    public string Html()
    {
        var paragraphs = Text.ReplaceLineEndings("\n")
            .Split("\n\n", StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)
            .Select(p => $"<p>{WebUtility.HtmlEncode(p).Replace("\n", "<br>", StringComparison.Ordinal)}</p>");
        return $"<!DOCTYPE html><html><head><meta charset=\"utf-8\"><title>{WebUtility.HtmlEncode(Subject)}</title></head>"
            + $"<body style=\"font-family:sans-serif;font-size:16px;line-height:1.5\">{string.Concat(paragraphs)}</body></html>";
    }
}

/// <summary>Makes mails about orders.</summary>
internal static class OrderMail
{
    /// <summary>Who may be written to about an order: only who gave an address and agreed that it is kept. Null: nobody.</summary>
    public static Contact? To(Order order, CurrentSettings settings) =>
        settings.Mail.Host.Length > 0 && order.Contact.Email.Length > 0 && order.Agreements.Any(a => a.What == "contact data")
            ? order.Contact
            : null;

    /// <summary>The message for the outbox, in the language that the customer chose.</summary>
    public static OutboxMessage Message(
        Order order,
        CurrentSettings settings,
        Func<MailTexts, MailText> which,
        (string Key, string Subject) about,
        Contact to,
        DateTimeOffset now,
        Guid? attached = null
    )
    {
        var filled = which(MailLanguages.Of(settings.Mail, order.Language))
            .Filled(to.Name, order.Number.ToString(CultureInfo.InvariantCulture), settings.Profile.Name);
        return Of(
            order,
            new MailContent(to.Email, to.Name, filled.Subject, filled.Text, OnlyWhileReady: attached is null, attached),
            about,
            now
        );
    }

    /// <summary>A mail about an order, for the outbox.</summary>
    public static OutboxMessage Of(Order order, MailContent mail, (string Key, string Subject) about, DateTimeOffset now) =>
        new(Guid.CreateVersion7(), OutboxMessage.Mail, JsonSerializer.Serialize(mail, JsonForms.Default), now)
        {
            Key = about.Key,
            Subject = about.Subject,
            Order = order.Id,
        };
}
