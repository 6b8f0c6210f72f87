using Bunit;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Books;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Invoices;

/// <summary>The forms of an invoice and of what can be issued, as they stand on their pages.</summary>
public sealed class InvoiceFormsTests : IAsyncLifetime
{
    private readonly BunitContext page = new();
    private InvoicingShop shop = null!;

    public async Task InitializeAsync()
    {
        shop = await InvoicingShop.OpenAsync();
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        page.Services.AddLocalization();
        page.Services.AddMudServices();
        page.Services.AddSingleton<TimeProvider>(shop.Shop.Clock);
        page.Services.AddSingleton(_ => shop.Shop.Get<IssueCreditNote>());
        page.Services.AddSingleton(_ => shop.Shop.Get<CreditDraft>());
        page.Services.AddSingleton(_ => shop.Shop.Get<IssueInvoice>());
        page.Services.AddSingleton(_ => shop.Shop.Get<InvoiceDraftView>());
        page.Services.AddSingleton(_ => shop.Shop.Get<EnterPayment>());
        page.Services.AddSingleton(_ => shop.Shop.Get<ChangeInvoiceSettings>());
        page.Services.AddSingleton(_ => shop.Shop.Get<SettingsView>());
        page.Services.AddSingleton(_ => shop.Shop.Get<InvoiceListView>());
        page.Services.AddSingleton(_ => shop.Shop.Get<TakingsView>());
        page.Services.AddSingleton(_ => shop.Shop.Get<Notifier>());
    }

    public async Task DisposeAsync()
    {
        await page.DisposeAsync();
        await shop.DisposeAsync();
    }

    /// <summary>What is wrong is said beside its field before anything is asked; a deposit that was taken off is not counted.</summary>
    [Fact]
    public async Task TakeBack_WithoutReasonOrInFractions_IsToldBesideTheField()
    {
        var order = await shop.OrderAsync();
        var asked = Money.Round(await shop.GrossAsync(order) * 0.3m);
        await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order, Deposit: asked));
        var invoice = await shop.DetailAsync((await shop.InvoiceAsync(order)).Number);
        var form = page.Render<CreditForm>(p => p.Add(f => f.Invoice, invoice).AddCascadingValue(Session()));
        Assert.Empty(form.FindAll("#D1"));
        await form.FindAll("button").First(b => b.TextContent.Contains("all of it", StringComparison.Ordinal)).ClickAsync();
        Assert.Contains("Say why", form.Find("#Reason-fault").TextContent, StringComparison.Ordinal);
        await form.Find("#Reason").ChangeAsync(new() { Value = "Chipped corner" });
        var line = invoice.Lines.First(l => l.Quantity > 0m).Id;
        await form.Find($"[id='{line}']").ChangeAsync(new() { Value = "0.5" });
        await form.FindAll("button").First(b => b.TextContent.Contains("Take these", StringComparison.Ordinal)).ClickAsync();
        Assert.Contains("invoiced anew", form.Find("#Then-fault").TextContent, StringComparison.Ordinal);
        await form.Find("#Then").ChangeAsync(new() { Value = "1" });
        await form.FindAll("button").First(b => b.TextContent.Contains("Take these", StringComparison.Ordinal)).ClickAsync();
        form.WaitForAssertion(() =>
            Assert.Contains("whole pieces", form.Find($"[id='{line}-fault']").TextContent, StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task Panel_PaidOnAccount_StandsApartFromWhatIsOpen()
    {
        var order = await shop.OrderAsync();
        await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(null, order, 5m, shop.Today, "cash"));
        await using var context = await shop.Shop.ContextAsync();
        var number = context.Orders.Where(o => o.Id == order).Select(o => o.Number).First();
        var found = (await shop.Shop.Get<InvoiceListView>().ForOrderAsync(number))!;
        var panel = page.Render<IssuePanel>(p => p.Add(f => f.Order, found).AddCascadingValue(Session()));
        Assert.Matches(@"\. +Paid on account: 5", panel.Find("section > p").TextContent);
    }

    [Fact]
    public async Task Panel_PiecesThatNeverCome_AreSaidWithTheDepositThatNothingTakesOff()
    {
        var found = (await ForAsync(await shop.OrderAsync())) with
        {
            Lost = 2,
            PaidBack = 3,
            ToRemake = 1,
            StrandedDeposits = ["D2026-0001"],
        };
        var panel = page.Render<IssuePanel>(p => p.Add(f => f.Order, found).AddCascadingValue(Session()));
        var lost = panel.FindAll(".lost").Select(l => l.TextContent).ToList();
        Assert.Contains("never come: 2.", lost[0], StringComparison.Ordinal);
        Assert.Contains("Paid back: 3.", lost[1], StringComparison.Ordinal);
        Assert.Contains("in their place: 1.", lost[2], StringComparison.Ordinal);
        Assert.Equal("office/invoices/D2026-0001", panel.Find(".warn a").GetAttribute("href"));
    }

    [Fact]
    public async Task Panel_ForADeposit_OffersTheTaxAsForAnInvoice()
    {
        var order = await shop.OrderAsync();
        var found = (await ForAsync(order)) with { DepositAsked = 11.9m, HasOpen = false, TaxCodes = [("normal", "n"), ("rc", "r")] };
        var panel = page.Render<IssuePanel>(p => p.Add(f => f.Order, found).AddCascadingValue(Session()));
        string[] offered = ["Deposit invoice", "Deposit invoice, paid in cash", "Deposit invoice, paid by card"];
        Assert.Equal(offered, panel.FindAll("#Kind option").Select(o => o.TextContent.Trim()));
        await panel.Find("#Tax").ChangeAsync(new() { Value = "1" });
        panel.WaitForAssertion(() =>
            Assert.Contains("tax=rc", panel.Find("[href*='draft.pdf']").GetAttribute("href"), StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task Panel_MoreOnAccountThanTheOrderComesTo_IsAskedAndTakenOnlyThen()
    {
        var order = await shop.OrderAsync();
        var found = await ForAsync(order);
        Assert.Equal(await shop.GrossAsync(order), found.ToCome);
        var form = page.Render<PaymentForm>(p => p.Add(f => f.Order, order).Add(f => f.ToCome, found.ToCome).AddCascadingValue(Session()));

        await EnterAsync(form, (found.ToCome + 1m).ToString("0.00", CultureInfo.CurrentCulture));

        var question = form.FindComponent<ConfirmNamed>();
        form.WaitForAssertion(() => Assert.True(question.Instance.Open));
        Assert.Contains("still to come in for this order", question.Instance.Consequence, StringComparison.Ordinal);
        Assert.Equal(0m, (await ForAsync(order)).OnAccount);
        await form.InvokeAsync(() => question.Instance.OnConfirm.InvokeAsync());
        form.WaitForAssertion(() => Assert.Contains("Entered.", form.Markup, StringComparison.Ordinal));
        Assert.Equal((found.ToCome + 1m, -1m), ((await ForAsync(order)).OnAccount, (await ForAsync(order)).ToCome));
    }

    [Fact]
    public async Task Panel_OnAccountUpToTheOrdersTotal_IsTakenWithoutAsking()
    {
        var order = await shop.OrderAsync();
        var found = await ForAsync(order);
        var form = page.Render<PaymentForm>(p => p.Add(f => f.Order, order).Add(f => f.ToCome, found.ToCome).AddCascadingValue(Session()));

        await EnterAsync(form, found.ToCome.ToString("0.00", CultureInfo.CurrentCulture));

        form.WaitForAssertion(() => Assert.Contains("Entered.", form.Markup, StringComparison.Ordinal));
        Assert.Equal(0m, (await ForAsync(order)).ToCome);
    }

    private static async Task EnterAsync(IRenderedComponent<PaymentForm> form, string amount)
    {
        await form.Find("#Amount").ChangeAsync(new() { Value = amount });
        await form.Find("form").SubmitAsync();
    }

    [Fact]
    public async Task Taxes_DaysWithoutARate_AreSaidWhenSavedAndWhenOpened()
    {
        TaxRate Rate(DateOnly from, DateOnly? to) => new("normal", "normal", TaxKind.Standard(19m), null, from, to);
        var rates = new[] { Rate(DateOnly.MinValue, new(2026, 6, 30)), Rate(new(2026, 7, 3), null) };
        var settings = new InvoiceSettings { Rates = rates };
        Assert.True((await shop.Shop.Get<ChangeInvoiceSettings>().RunAsync(shop.Asked(), settings)).IsOk);
        var form = page.Render<InvoiceSettingsPage>(p => p.AddCascadingValue(Session()));
        Assert.Contains(
            "No rate of the code normal holds from",
            form.Find(".notice:not([data-told])").TextContent,
            StringComparison.Ordinal
        );

        await form.Find("#RateFrom1").ChangeAsync(new() { Value = "2026-07-01" });
        await form.Find("form").SubmitAsync();
        form.WaitForAssertion(() => Assert.Empty(form.FindAll(".notice.warn:not([data-told])")));

        await form.Find("#RateTo1").ChangeAsync(new() { Value = "2026-12-31" });
        await form.Find("form").SubmitAsync();
        form.WaitForAssertion(() => Assert.Contains("There are days without a rate", form.Markup, StringComparison.Ordinal));
        Assert.Single(form.FindAll(".notice.warn:not([data-told])"));
    }

    [Fact]
    public async Task Taxes_WrongPercentAndDay_AreToldBesideThemAndGoWhenTheyArePutRight()
    {
        var form = page.Render<InvoiceSettingsPage>(p => p.AddCascadingValue(Session()));
        await form.FindAll("button").First(b => b.TextContent.Contains("Another rate", StringComparison.Ordinal)).ClickAsync();
        await form.Find("#Rates0").ChangeAsync(new() { Value = "normal" });
        await form.Find("#RatePercent0").ChangeAsync(new() { Value = "many" });
        await form.Find("#RateTo0").ChangeAsync(new() { Value = "soon" });
        await form.Find("form").SubmitAsync();
        Assert.NotEmpty(form.FindAll("#RatePercent0-fault"));
        Assert.NotEmpty(form.FindAll("#RateTo0-fault"));
        Assert.Empty(form.FindAll("#Rates0-fault"));

        await form.Find("#RatePercent0").ChangeAsync(new() { Value = "19" });

        Assert.Empty(form.FindAll("#RatePercent0-fault"));
        Assert.NotEmpty(form.FindAll("#RateTo0-fault"));
    }

    private async Task<OrderInvoicing> ForAsync(OrderId order)
    {
        await using var context = await shop.Shop.ContextAsync();
        var number = context.Orders.Where(o => o.Id == order).Select(o => o.Number).First();
        return (await shop.Shop.Get<InvoiceListView>().ForOrderAsync(number))!;
    }

    [Fact]
    public async Task List_OfAll_ShowsTotalAndOpenBesideTheNumberAndCreditNotesBelowZero()
    {
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        await shop.Shop.Get<IssueCreditNote>().RunAsync(shop.Asked(), new CreditInput(issued.Id, null, "Wrong address"));
        var list = page.Render<InvoicesPage>(p => p.AddCascadingValue(Session()));
        Assert.Equal(["Number", "Total", "Still open"], list.FindAll("thead th").Take(3).Select(h => h.TextContent));
        var total = list.FindAll("tbody tr").First(r => r.TextContent.Contains("C2026-0001", StringComparison.Ordinal)).Children[1];
        Assert.StartsWith("-", total.TextContent, StringComparison.Ordinal);
    }

    private Task<AuthenticationState> Session() => TestPage.Session(shop.Owner);
}
