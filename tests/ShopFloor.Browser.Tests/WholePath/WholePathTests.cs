using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using SkiaSharp;

namespace ShopFloor.Browser.Tests.WholePath;

/// <summary>One order from the Counter to a paid invoice, as people do it: a tablet, a wall, a phone, a desk. Screenshots are kept.</summary>
public sealed partial class WholePathTests : IAsyncLifetime
{
    private readonly Stage stage = new();

    public Task InitializeAsync() => stage.InitializeAsync();

    public Task DisposeAsync() => stage.DisposeAsync();

    [Fact]
    public async Task Order_FromCounterToPaidInvoice_GoesThrough()
    {
        await VentAsync();
        var number = await BookAsync();
        await using var wall = await stage.VisitAsync(Screen.Wall, "bench");
        await wall.GoAsync("/wall");
        var code = await CodeAsync(number);
        await WorkAsync(code);
        await wall.ShootAsync("path-wall", fullPage: false);
        await PayAsync(number);
        Assert.Empty(wall.Complaints);
    }

    /// <summary>Without measured fresh air no coat may go into the oven before its long flash-off is over, and nobody waits for that here.</summary>
    private async Task VentAsync()
    {
        await using var desk = await stage.VisitAsync(Screen.Desk, "owner");
        await desk.GoAsync("/office/stations/oven-1");
        await desk.ReadyAsync();
        await desk.Page.GetByLabel("Fresh air, measured").FillAsync("20");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true }).ClickAsync();
        await desk.Page.GetByText("Saved.").First.WaitForAsync();
        await desk.ShootAsync("path-0-oven");
        Assert.Empty(desk.Complaints);
    }

    private async Task<int> BookAsync()
    {
        await using var tablet = await stage.VisitAsync(Screen.TabletUpright, "counter");
        var page = tablet.Page;
        await tablet.GoAsync("/counter");
        await page.Locator("#begin-blank").ClickAsync();
        await page.EndsAsync("/piece");
        await tablet.ReadyAsync();
        await page.Locator("label", new() { HasText = "Aluminium plate 100" }).First.ClickAsync();
        await tablet.ShootAsync("path-1-piece");
        await ContinueAsync(tablet, "picture");
        await page.Locator("input[type=file]")
            .First.SetInputFilesAsync(
                new FilePayload
                {
                    Name = "boat.jpg",
                    MimeType = "image/jpeg",
                    Buffer = Photo(),
                }
            );
        await page.GetByRole(AriaRole.Button, new() { Name = "Another picture" }).WaitForAsync();
        await tablet.ShootAsync("path-2-picture");
        await ContinueAsync(tablet, "look");
        await page.Locator("#finish").GetByRole(AriaRole.Radio).Nth(1).CheckAsync(new() { Force = true });
        // Somebody who chooses has read what each finish costs; the cards do not change any more after that.
        await Assertions.Expect(page.Locator(".card-note", new() { HasText = "EUR" }).Nth(1)).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator(".card-note", new() { HasText = "…" })).ToHaveCountAsync(0);
        await tablet.ShootAsync("path-3-look");
        await ContinueAsync(tablet, "you");
        await page.GetByLabel("Your name").FillAsync("Ida Sandberg");
        await page.GetByLabel("E-mail").FillAsync("ida@example.org");
        await page.Locator("#contactAgreed").CheckAsync();
        await ContinueAsync(tablet, "check");
        await page.Locator("#rights").CheckAsync();
        await page.Locator("#book").WaitForAsync();
        // Somebody who books has read the price: it is there and no older than the order.
        await Assertions.Expect(page.GetByText("As of").First).ToBeVisibleAsync();
        await tablet.ShootAsync("path-4-check");
        await page.Locator("#book").ClickAsync();
        await Assertions.Expect(page.Locator("h1")).ToContainTextAsync("Your order has number");
        await tablet.ShootAsync("path-5-ticket");
        Assert.Empty(tablet.Complaints);
        return int.Parse(OrderNumber().Match(await page.Locator("h1").InnerTextAsync()).Value, CultureInfo.InvariantCulture);
    }

    private static async Task ContinueAsync(Visitor tablet, string next)
    {
        var title = tablet.Page.Locator("h1");
        var before = await title.InnerTextAsync();
        await tablet.Page.GetByRole(AriaRole.Button, new() { Name = "Continue" }).ClickAsync();
        await tablet.Page.EndsAsync($"/{next}");
        // The address changes before the step does.
        await Assertions.Expect(title).Not.ToHaveTextAsync(before);
    }

    private async Task WorkAsync(string code)
    {
        await using var phone = await stage.VisitAsync(Screen.Phone, "bench");
        // The demo's oven is in use: its load comes out first.
        for (var moves = 0; moves < 8 && await RunningLoadAsync() is { } load; moves++)
            await PressAsync(phone, load);
        for (var moves = 0; moves < 60 && !await IsReadyAsync(code); moves++)
        {
            await PressAsync(phone, code);
            if (moves is 1 or 6)
                await phone.ShootAsync($"path-bench-{moves}");
        }
        if (!await IsReadyAsync(code))
            Assert.Fail($"After sixty moves {code} is not ready. Its page says: {await phone.Page.Locator("body").InnerTextAsync()}");
        Assert.Empty(phone.Complaints);
    }

    /// <summary>The one thing that a code's page offers next; times outside their window are decided on, as the page asks.</summary>
    private static async Task PressAsync(Visitor phone, string code)
    {
        var page = phone.Page;
        await phone.GoAsync($"/b/{code}");
        var decide = page.GetByRole(AriaRole.Heading, new() { Name = "Decide what to do" });
        // A question that was left open is asked again.
        if (await page.EvaluateAsync<bool>("code => globalThis.benchAsked(code) !== null", code))
        {
            await decide.WaitForAsync();
            await GoOnAsync(page);
            return;
        }
        var inspect = page.GetByRole(AriaRole.Button, new() { Name = "Inspect", Exact = true });
        if (await inspect.IsVisibleAsync())
        {
            await inspect.ClickAsync();
            await page.GetByRole(AriaRole.Button, new() { Name = "Good" }).First.ClickAsync();
            var felt = page.GetByRole(AriaRole.Button, new() { Name = "It can be touched: go on" });
            await felt.Or(page.GetByRole(AriaRole.Button, new() { Name = "Undo" })).First.WaitForAsync();
            if (await felt.IsVisibleAsync())
                await felt.ClickAsync();
            await page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).WaitForAsync();
            return;
        }
        var primary = page.Locator("main button.primary[data-move]:visible");
        if (await primary.CountAsync() == 0)
        {
            await page.Locator("main a[href*='b/']:visible").First.ClickAsync();
            await primary.First.WaitForAsync();
        }
        await primary.First.ClickAsync();
        await page.WaitForSelectorAsync("html[data-bench-outcomes]");
        // The word comes before the question.
        if (await page.Locator(".said[data-kind=no]").IsVisibleAsync())
        {
            var hot = page.GetByRole(AriaRole.Button, new() { Name = "It is hot", Exact = true });
            await decide.Or(hot).First.WaitForAsync();
            if (await hot.IsVisibleAsync())
            {
                await hot.ClickAsync();
                await Assertions.Expect(hot).ToBeHiddenAsync();
                if (!await decide.IsVisibleAsync())
                    return;
            }
            await GoOnAsync(page);
        }
    }

    private static async Task GoOnAsync(IPage page)
    {
        await page.GetByRole(AriaRole.Button, new() { Name = "Judged by eye" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on as it is" }).ClickAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Decide what to do" })).ToBeHiddenAsync();
    }

    private async Task PayAsync(int number)
    {
        await using var desk = await stage.VisitAsync(Screen.Desk, "owner");
        var page = desk.Page;
        await desk.GoAsync($"/office/orders/{number}");
        await page.GetByRole(AriaRole.Button, new() { Name = "Hand over what is ready" }).ClickAsync();
        await page.GetByRole(AriaRole.Dialog).GetByRole(AriaRole.Button, new() { Name = "Hand over", Exact = true }).ClickAsync();
        await Assertions.Expect(page.GetByText("handed over").First).ToBeVisibleAsync();
        await desk.ShootAsync("path-6-order");
        await page.Locator("#extras #Name").FillAsync("For the long wait");
        await page.Locator("#extras #Amount").FillAsync("10 %");
        await page.Locator("#extras").GetByRole(AriaRole.Button, new() { Name = "Add", Exact = true }).ClickAsync();
        await page.Locator("#extras").GetByText("For the long wait, 10 %").First.WaitForAsync();
        await desk.GoAsync($"/office/invoices?order={number}");
        await page.GetByText("For the long wait, 10 %").First.WaitForAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Issue it", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Issue", Exact = true }).ClickAsync();
        await page.GetByText("is issued.").First.WaitForAsync();
        await page.Locator("table a[href^='office/invoices/']").First.ClickAsync();
        await desk.ReadyAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Enter the payment" }).ClickAsync();
        await page.GetByText("Entered.").First.WaitForAsync();
        await desk.ShootAsync("path-7-invoice");
        await using var context = await ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Number == number);
        var invoice = await context.Documents.AsNoTracking().SingleAsync(d => d.Order == order.Id);
        var paid = (await context.Payments.AsNoTracking().ToListAsync()).Where(p => p.Document == invoice.Id).Sum(p => p.Amount);
        Assert.Equal(invoice.Total, paid);
        Assert.StartsWith("%PDF-", System.Text.Encoding.ASCII.GetString(invoice.Pdf, 0, 5), StringComparison.Ordinal);
        Assert.Equal(order.Gross, invoice.Total);
        Assert.Empty(desk.Complaints);
    }

    private Task<ShopContext> ContextAsync() =>
        stage.App.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();

    private async Task<string> CodeAsync(int number)
    {
        await using var context = await ContextAsync();
        var order = await context.Orders.AsNoTracking().Where(o => o.Number == number).Select(o => o.Id).SingleAsync();
        return await context.Pieces.Where(p => p.Order == order).Select(p => p.Code).SingleAsync();
    }

    private async Task<string?> RunningLoadAsync()
    {
        await using var context = await ContextAsync();
        return await context.Batches.Where(b => b.State == BatchState.Running).Select(b => b.Code).FirstOrDefaultAsync();
    }

    private async Task<bool> IsReadyAsync(string code)
    {
        await using var context = await ContextAsync();
        var piece = await context.Pieces.AsNoTracking().SingleAsync(p => p.Code == code);
        return piece is { State: PieceState.CheckedGood, Current: null };
    }

    private static byte[] Photo()
    {
        using var drawn = new SKBitmap(1600, 1000);
        drawn.Erase(SKColors.SteelBlue);
        using var canvas = new SKCanvas(drawn);
        using var white = new SKPaint { Color = SKColors.White };
        canvas.DrawCircle(800, 500, 300, white);
        using var jpeg = drawn.Encode(SKEncodedImageFormat.Jpeg, 90);
        return jpeg.ToArray();
    }

    [GeneratedRegex(@"\d+", RegexOptions.None, 1000)]
    private static partial Regex OrderNumber();
}
