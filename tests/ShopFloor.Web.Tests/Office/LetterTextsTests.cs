using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The owner's own words on letters.</summary>
public sealed class LetterTextsTests
{
    [Fact]
    public async Task Letters_OwnWords_StandThereFilledIn()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var texts = new LetterTexts
        {
            QuoteOpening = "Dear {name}, this is for order {order}.",
            QuoteClosing = "Yours, {workshop}",
            InvoiceClosing = "Thank you, {name}!",
            FirstReminder = "Did you forget {invoice}?",
        };
        Assert.True((await shop.Shop.Get<ChangeLetterTexts>().RunAsync(shop.Asked(), texts)).IsOk);
        var order = await shop.OrderAsync();
        await using var context = await shop.Shop.ContextAsync();
        var (number, name) = context.Orders.Where(o => o.Id == order).AsEnumerable().Select(o => (o.Number, o.Contact.Name)).Single();

        var quote = Poppler.Words((await shop.Shop.Get<OrderLetterView>().MakeAsync(number, OrderLetterKind.Quote, ""))!);
        var issued = await shop.InvoiceAsync(order);
        shop.Shop.Clock.Advance(TimeSpan.FromDays(40));
        var reminder = (await shop.Shop.Get<SendReminder>().RunAsync(shop.Asked(), new ReminderInput(issued.Id))).Value;

        Assert.Contains($"Dear {name}, this is for order {number}.", quote, StringComparison.Ordinal);
        Assert.Contains("Yours, Moorlight Workshop", quote, StringComparison.Ordinal);
        Assert.DoesNotContain("Thank you for asking", quote, StringComparison.Ordinal);
        Assert.Contains($"Thank you, {name}!", await WordsAsync(shop, issued.Id), StringComparison.Ordinal);
        Assert.Contains($"Did you forget {issued.Number}?", await WordsAsync(shop, reminder.Id), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Papers_OfAPieceWithTheCustomersRemark_DoNotRepeatIt()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await using var context = await shop.Shop.ContextAsync();
        var (order, remark) = context
            .Orders.AsNoTracking()
            .AsEnumerable()
            .SelectMany(o => o.Lines.Select(l => (o, l.Piece.Note)))
            .First(x => x.Note.Length > 0);
        foreach (var kind in new[] { OrderLetterKind.Quote, OrderLetterKind.Confirmation, OrderLetterKind.Gift })
        {
            var words = Poppler.Words((await shop.Shop.Get<OrderLetterView>().MakeAsync(order.Number, kind, "For Mathilde"))!);
            Assert.DoesNotContain(remark[..20], words, StringComparison.Ordinal);
            Assert.Equal(kind != OrderLetterKind.Gift, words.Contains("on your own piece", StringComparison.Ordinal));
        }
    }

    [Theory]
    [InlineData("Dear {nmae}", "{nmae}")]
    [InlineData("Dear {name", "{")]
    [InlineData("Dear name}", "}")]
    [InlineData("About {invoice}", "{invoice}")]
    public async Task Change_PlaceThatIsNotFilledIn_IsRefusedBesideItsField(string text, string named)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var refused = await shop.Shop.Get<ChangeLetterTexts>().RunAsync(shop.Asked(), new LetterTexts { QuoteOpening = text });
        var fault = Assert.Single(refused.Refusals);
        Assert.Equal(nameof(LetterTexts.QuoteOpening), fault.Field);
        Assert.Contains($"“{named}”", fault.Text, StringComparison.Ordinal);
        Assert.Contains("{name}, {order}, {workshop}", fault.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Fill_NameThatLooksLikeAPlace_IsNotFilledAgain() =>
        Assert.Equal(
            "{order} 7",
            TextPlaces.Fill("{name} {order}", new Dictionary<string, string> { ["{name}"] = "{order}", ["{order}"] = "7" })
        );

    private static async Task<string> WordsAsync(InvoicingShop shop, Guid id) =>
        Poppler.Words((await shop.Shop.Get<InvoiceView>().PaperAsync(id, xml: false, default))!.Value.Bytes);
}
