using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Localization;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Ticket;

/// <summary>The ticket of a booked order once more, in the language in which the customer agreed.</summary>
public sealed class TicketAgain(
    IDbContextFactory<ShopContext> contexts,
    CounterChoicesView choices,
    TimeProvider time,
    ShopCultures cultures,
    IStringLocalizer<CounterTexts> texts
) : IPageView
{
    /// <summary>The file; null when there is no such order.</summary>
    /// <param name="number">The order's number.</param>
    /// <param name="secret">The secret of its page; empty: a ticket without a code.</param>
    /// <param name="here">The address as the page was asked for.</param>
    /// <param name="cancel">Ends the reading.</param>
    public async Task<TicketFile?> FileAsync(int number, string secret, string here, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == number, cancel) is not { } order)
            return null;
        var words = new MoneyAndDay(await choices.RunAsync(cancel));
        var shop = (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Profile;
        // Of this flow alone: whoever asked goes on in their own language.
        CultureInfo.CurrentUICulture = CultureInfo.CurrentCulture = cultures.For(order.Language) ?? cultures.Own;
        var link = secret.Length == 0 ? "" : LinkOf(words.Choices.PublicAddress, here, secret);
        return TicketPaper.Draw(new TicketFacts(order, link, words, shop), time.GetUtcNow(), texts);
    }

    /// <summary>The address of a customer's page.</summary>
    internal static string LinkOf(string set, string here, string secret) => $"{PublicAddress.Of(set, here)}status/{secret}";
}
