using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Complaints;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Complaints;

/// <summary>A complaint as it stands on its page.</summary>
public sealed class ComplaintCardTests
{
    /// <summary>A credit note can never be changed: it is asked about with its invoice and its sum before it is issued.</summary>
    [Fact]
    public async Task PayBack_OneTap_AsksWithInvoiceAndSumFirst()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        await using var context = await shop.Shop.ContextAsync();
        var pieces = context.Pieces.Where(p => p.Order == order && !p.IsTest);
        await context.Complaints.ExecuteDeleteAsync();
        await pieces.ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.HandedOver));
        var input = new ComplaintInput(order, await pieces.Select(p => p.Id).ToListAsync(), "It peels.");
        Assert.True((await shop.Shop.Get<OpenComplaint>().RunAsync(shop.Asked(), input)).IsOk);
        var invoice = await shop.InvoiceAsync(order);
        await using var page = new BunitContext();
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        page.Services.AddLocalization();
        page.Services.AddMudServices();
        page.Services.AddSingleton(_ => shop.Shop.Get<DecideComplaint>());
        page.Services.AddSingleton(_ => shop.Shop.Get<RefundDraft>());
        var user = new ClaimsPrincipal(new ClaimsIdentity([new Claim(ClaimTypes.NameIdentifier, shop.Owner.ToString())], "test"));
        var row = (await shop.Shop.Get<ComplaintView>().LoadAsync(order)).Single();
        var card = page.Render<ComplaintCard>(p =>
            p.Add(c => c.Complaint, row).AddCascadingValue(Task.FromResult(new AuthenticationState(user)))
        );
        Task TapAsync() =>
            card.FindAll("button").First(b => b.TextContent.Contains("Pay them back", StringComparison.Ordinal)).ClickAsync();

        await TapAsync();
        card.WaitForAssertion(() => Assert.NotEmpty(card.FindAll("#Answer-fault")));
        await card.Find("#Answer").ChangeAsync(new() { Value = "It peels." });
        await TapAsync();

        var question = card.FindComponent<ConfirmNamed>();
        card.WaitForAssertion(() => Assert.True(question.Instance.Open));
        Assert.Contains(invoice.Number, question.Instance.Consequence, StringComparison.Ordinal);
        var sum = (await shop.GrossAsync(order)).ToString("N2", CultureInfo.CurrentCulture);
        Assert.Contains(sum, question.Instance.Consequence, StringComparison.Ordinal);
        Assert.Null((await shop.Shop.Get<ComplaintView>().LoadAsync(order)).Single().CreditNote);
        await card.InvokeAsync(() => question.Instance.OnConfirm.InvokeAsync());
        Assert.NotNull((await shop.Shop.Get<ComplaintView>().LoadAsync(order)).Single().CreditNote);
    }
}
