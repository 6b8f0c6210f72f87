using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Status;

/// <summary>What somebody at the Counter is told about their order: how far it is, and nothing else.</summary>
/// <param name="Number">The order's number.</param>
/// <param name="Promised">The promised instant in the shop's time.</param>
/// <param name="IsCancelled">Called off.</param>
/// <param name="Lines">The lines, without picture and text: others may look on.</param>
public sealed record WhereStatus(int Number, DateTimeOffset Promised, bool IsCancelled, IReadOnlyList<StatusLine> Lines)
{
    /// <summary>How the customer's pieces stand.</summary>
    public IReadOnlyList<PieceStand> Stands { get; init; } = [];
}

/// <summary>
/// Finds an order by its number together with the family name or the e-mail address that it was booked with. A wrong pair, an order that
/// is none and one whose time is over are answered alike.
/// </summary>
public sealed class WhereView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The longest name that is compared.</summary>
    public const int MostLetters = 200;

    /// <summary>How far it is; null for a wrong pair.</summary>
    public async Task<WhereStatus?> FindAsync(string? number, string? who, CancellationToken cancel = default)
    {
        if (!int.TryParse(number?.Trim().TrimStart('#'), NumberStyles.None, CultureInfo.InvariantCulture, out var wanted))
            return null;
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var order = await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == wanted, cancel);
        // An order without a page of its own was erased, or its time is over.
        if (
            order is null
            || !IsOf(order.Contact, who)
            || order.StatusLinkHash.Length == 0
            || !await StatusView.IsLivingAsync(context, order.Id, now, cancel)
        )
            return null;
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var pieces = await context
            .Pieces.Where(p => !p.IsTest && p.Order == order.Id)
            .Select(p => new { p.Line, p.State })
            .ToListAsync(cancel);
        StatusLine Line(OrderLine line) =>
            new(
                line.Number,
                new LineEntry(),
                line.Finish,
                settings.Material(line.Piece.Material),
                [.. pieces.Where(p => p.Line == line.Id).GroupBy(p => p.State).OrderBy(g => g.Key).Select(g => (g.Key, g.Count()))]
            );
        return new WhereStatus(
            order.Number,
            TimeZoneInfo.ConvertTime(order.PromisedAt, settings.Zone),
            order.CancelledAt is not null,
            [.. order.Lines.OrderBy(l => l.Number).Select(Line)]
        )
        {
            Stands = await StatusView.StandsAsync(context, order.Id, cancel),
        };
    }

    /// <summary>True for the e-mail address, the whole name, or its end that begins at a word: the family name.</summary>
    public static bool IsOf(Contact contact, string? who)
    {
        if (who is null || who.Length > MostLetters || Plain(who) is not { Length: > 0 } said)
            return false;
        var (name, comma) = (Plain(contact.Name), contact.Name.IndexOf(',', StringComparison.Ordinal));
        return string.Equals(who.Trim(), contact.Email, StringComparison.OrdinalIgnoreCase)
            || name == said
            || name.EndsWith($" {said}", StringComparison.Ordinal)
            || (comma > 0 && Plain(contact.Name[..comma]) == said);
    }

    // Letters as people type them on a strange keyboard: without case, without the signs on them, blanks once.
    private static string Plain(string name)
    {
        var spelt = name.ToLowerInvariant()
            .Replace("ß", "ss", StringComparison.Ordinal)
            .Replace("ä", "ae", StringComparison.Ordinal)
            .Replace("ö", "oe", StringComparison.Ordinal)
            .Replace("ü", "ue", StringComparison.Ordinal)
            .Normalize(NormalizationForm.FormD)
            .Where(c => CharUnicodeInfo.GetUnicodeCategory(c) != UnicodeCategory.NonSpacingMark);
        return string.Join(' ', string.Concat(spelt).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
    }
}
