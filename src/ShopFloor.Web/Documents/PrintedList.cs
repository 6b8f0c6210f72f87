using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Documents;

/// <summary>A print in the journal.</summary>
/// <param name="Id">Names the entry.</param>
/// <param name="At">When, shop-local.</param>
/// <param name="By">Who.</param>
/// <param name="Name">The paper's name, see <see cref="PaperWish.Name"/>.</param>
/// <param name="Number">Its number.</param>
/// <param name="IsAgain">Printed before.</param>
public sealed record PrintedLine(Guid Id, DateTime At, string By, string Name, string Number, bool IsAgain);

/// <summary>A page of the journal.</summary>
public sealed record PrintedLines(IReadOnlyList<PrintedLine> Lines, int Page, int Pages);

/// <summary>Reads what was printed when and by whom, newest first.</summary>
public sealed class PrintedList(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int PageSize = 50;

    public async Task<PrintedLines> ReadAsync(int page, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var zone = (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Zone;
        var names = await context.Users.ToDictionaryAsync(u => u.Id.ToString(), u => u.DisplayName, cancel);
        var all = context.Audit.AsNoTracking().Where(a => a.What == PrintPaper.What);
        var pages = Math.Max(1, (await all.CountAsync(cancel) + PageSize - 1) / PageSize);
        var at = Math.Clamp(page, 1, pages);
        var rows = await all.OrderByDescending(a => a.At)
            .ThenByDescending(a => a.Id)
            .Skip((at - 1) * PageSize)
            .Take(PageSize)
            .ToListAsync(cancel);
        return new PrintedLines(
            [
                .. rows.Select(a => new PrintedLine(
                    a.Id,
                    TimeZoneInfo.ConvertTime(a.At, zone).DateTime,
                    names.GetValueOrDefault(a.By, ""),
                    a.Subject,
                    a.After,
                    a.Before.Length > 0
                )),
            ],
            at,
            pages
        );
    }
}
