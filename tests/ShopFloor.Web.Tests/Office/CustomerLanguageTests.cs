using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Office.Invoices;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Papers speak the language in which the customer ordered.</summary>
public sealed class CustomerLanguageTests
{
    /// <summary>Somebody who is known is not asked again whether contact data may be kept, and still gets mail in their language.</summary>
    [Fact]
    public async Task Book_KnownCustomer_KeepsLanguageAndWhatWasAgreedBefore()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var clerk = await shop.WorkerAsync(WorkerRole.Counter);
        var first = await shop.Get<BookOrder>().RunAsync(Asked.By(clerk), await shop.ShownAsync(ShopOrders.Plates()));
        Assert.True(first.IsOk);
        await using var context = await shop.ContextAsync();
        var earlier = await context.Orders.AsNoTracking().SingleAsync(o => o.Number == first.Value.Number);
        shop.Clock.Advance(TimeSpan.FromHours(3));

        var again = ShopOrders.Plates() with
        {
            Customer = earlier.Customer,
            Contact = new Contact("", "", ""),
            ContactAgreed = false,
            Language = "de",
        };
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(clerk), await shop.ShownAsync(again));

        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Number == booked.Value.Number);
        Assert.Equal("de", order.Language);
        Assert.Equal(earlier.BookedAt, Assert.Single(order.Agreements, a => a.What == "contact data").At);
    }

    /// <summary>What is written on the pieces is the one thing that only the customer can check.</summary>
    [Fact]
    public async Task Confirmation_PiecesWithTexts_NamesEachOfThemOverPages()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var clerk = await shop.WorkerAsync(WorkerRole.Counter);
        List<string> names = [.. Enumerable.Range(1, 60).Select(n => $"Größte{n:00} von und zu Moorlicht am See {n:00}")];
        var order = ShopOrders.Plates(60, own: true);
        var input = await shop.ShownAsync(order with { Language = "de", Lines = [order.Lines[0] with { Texts = names }] });
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(clerk), input);
        Assert.True(booked.IsOk, booked.Refusals.FirstOrDefault()?.Text);
        var pdf = (await shop.Get<OrderLetterView>().MakeAsync(booked.Value.Number, OrderLetterKind.Confirmation, ""))!;
        var words = Poppler.Words(pdf).ReplaceLineEndings(" ");
        Assert.Contains("Texte auf den Stücken von Zeile 1: (1) Größte01", words, StringComparison.Ordinal);
        Assert.All(names, n => Assert.Contains(n.Split(' ')[0], words, StringComparison.Ordinal));
        Assert.Matches(@"Pages:\s+[2-9]", Poppler.Info(pdf));
    }

    [Fact]
    public async Task Papers_OrderedInGerman_AreGermanFromQuoteToCreditNote()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        var number = await InGermanAsync(shop, order);

        var quote = Poppler.Words((await shop.Shop.Get<OrderLetterView>().MakeAsync(number, OrderLetterKind.Quote, ""))!);
        var issued = await shop.InvoiceAsync(order);
        var invoice = await WordsAsync(shop, issued.Id);
        shop.Shop.Clock.Advance(TimeSpan.FromDays(40));
        var reminder = (await shop.Shop.Get<SendReminder>().RunAsync(shop.Asked(), new ReminderInput(issued.Id))).Value;
        var credit = (await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(issued.Id, null, "Zu spät"))).Value;

        Assert.Contains("Vielen Dank für Ihre Anfrage", quote, StringComparison.Ordinal);
        Assert.Contains($"Rechnung {issued.Number}", invoice, StringComparison.Ordinal);
        Assert.Matches("durchscheinend|weißer Grund|samtmatt|hinter Glas", invoice);
        Assert.Matches("auf Ihrem eigenen Stück|Rohling von uns", invoice);
        var back = await WordsAsync(shop, credit.Id);
        Assert.All(new[] { quote, invoice, back }, words => Assert.Matches("USt-IdNr\\.|Steuernummer", words));
        Assert.Contains($"Zahlungserinnerung zu Rechnung {issued.Number}", await WordsAsync(shop, reminder.Id), StringComparison.Ordinal);
        Assert.Contains("Wir nehmen Folgendes zurück: Zu spät.", back, StringComparison.Ordinal);
        Assert.Contains("Der Betrag wird verrechnet oder erstattet.", back, StringComparison.Ordinal);
        Assert.All(
            new[] { "Thank you", "Total", "Amount", "own piece", "supplied by us", "Page ", "VAT no.", "Tax no.", "Germany" },
            english => Assert.All(new[] { quote, invoice, back }, words => Assert.DoesNotContain(english, words, StringComparison.Ordinal))
        );
    }

    private static async Task<int> InGermanAsync(InvoicingShop shop, OrderId id)
    {
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.SingleAsync(o => o.Id == id);
        var agreed = order.Agreements.Select(a => a with { Language = "de" }).ToList();
        context.Entry(order).Property(o => o.Agreements).CurrentValue = agreed;
        await context.SaveChangesAsync();
        return order.Number;
    }

    private static async Task<string> WordsAsync(InvoicingShop shop, Guid id) =>
        Poppler.Words((await shop.Shop.Get<InvoiceView>().PaperAsync(id, xml: false, default))!.Value.Bytes);
}
