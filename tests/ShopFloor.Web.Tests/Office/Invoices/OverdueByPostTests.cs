using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Sending;
using ShopFloor.Web.Office.Today;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>A reminder that no mail can carry is not made by itself: somebody is told to post it.</summary>
public sealed class OverdueByPostTests
{
    [Theory]
    [InlineData("somebody@shop.example")]
    [InlineData("")]
    public async Task MailOverdue_WithAndWithoutAnAddress_IsMailedOrLeftToAPerson(string email)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var mail = new MailSettings
        {
            Host = "mail.moorlight.example",
            From = "shop@moorlight.example",
            MailOverdue = true,
        };
        Assert.True((await shop.Shop.Get<ChangeMail>().RunAsync(shop.Asked(), new MailInput(mail, null))).IsOk);
        var order = await shop.OrderAsync();
        await using (var context = await shop.Shop.ContextAsync())
        {
            Assert.True((await context.Orders.SingleAsync(o => o.Id == order)).Reach(new Contact("Somebody", email, "0123 456789")).IsOk);
            await context.SaveChangesAsync();
        }
        var issued = await shop.InvoiceAsync(order);
        shop.Shop.Clock.Advance(TimeSpan.FromDays(60));

        await shop.Shop.Get<MailOverdue>().RunAsync();

        var isMailed = email.Length > 0;
        Assert.Equal(isMailed ? 1 : 0, await RemindersAsync(shop, issued.Id));
        Assert.Equal(!isMailed, await IsToPostAsync(shop, issued.Number));
        if (isMailed)
            return;
        Assert.True((await shop.Shop.Get<SendReminder>().RunAsync(shop.Asked(), new ReminderInput(issued.Id))).IsOk);
        Assert.False(await IsToPostAsync(shop, issued.Number));
    }

    [Fact]
    public async Task ByPost_ManyInvoices_AreFoundByAsManyQuestionsAsOne()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var mail = new MailSettings
        {
            Host = "mail.moorlight.example",
            From = "shop@moorlight.example",
            MailOverdue = true,
        };
        Assert.True((await shop.Shop.Get<ChangeMail>().RunAsync(shop.Asked(), new MailInput(mail, null))).IsOk);
        var one = await AskedAsync(shop);
        var many = await AskedAsync(shop);
        Assert.Equal((1, 2), (one.Found, many.Found));
        Assert.Equal(one.Asked, many.Asked);
    }

    /// <summary>One more invoice becomes late; then how many are found by how many questions.</summary>
    private static async Task<(int Found, int Asked)> AskedAsync(InvoicingShop shop)
    {
        var order = await shop.OrderAsync();
        await using (var context = await shop.Shop.ContextAsync())
        {
            Assert.True((await context.Orders.SingleAsync(o => o.Id == order)).Reach(new Contact("Somebody", "", "0123 456789")).IsOk);
            await context.SaveChangesAsync();
        }
        await shop.InvoiceAsync(order);
        shop.Shop.Clock.Advance(TimeSpan.FromDays(60));
        shop.Shop.Reads.Clear();
        var found = (await shop.Shop.Get<MoneyView>().LoadAsync()).ByPost;
        return (found.Count, shop.Shop.Reads.Asked("FROM"));
    }

    private static async Task<bool> IsToPostAsync(InvoicingShop shop, string number) =>
        (await shop.Shop.Get<MoneyView>().LoadAsync()).ByPost.Any(r => r.Number == number);

    private static async Task<int> RemindersAsync(InvoicingShop shop, Guid invoice)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Documents.CountAsync(d => d.Corrects == invoice);
    }
}
