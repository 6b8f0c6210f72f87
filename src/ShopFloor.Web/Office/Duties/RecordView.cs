using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Duties;

/// <summary>A line of the audit list.</summary>
public sealed record AuditRow(Guid Id, DateTime At, string By, string What, string Subject, string Before, string After)
{
    /// <summary>True when both fit beside each other as they are: short, and words or a number.</summary>
    public bool IsShort => Before.Length + After.Length <= 120 && !After.StartsWith('[') && !After.StartsWith('{');
}

/// <summary>A line of the security log.</summary>
public sealed record SafetyRow(Guid Id, DateTime At, string By, string What, string Subject, bool IsGood);

/// <summary>A page of a list.</summary>
public sealed record RecordPage<T>(IReadOnlyList<T> Rows, int Count, int Page, int Pages);

/// <summary>Reads who changed what, and what concerned safety. Nothing here can be edited.</summary>
public sealed class RecordView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int PageSize = 50;
    private const string System = "the program";

    /// <summary>A page of the audit list, newest first.</summary>
    /// <param name="words">Part of what was done or to what; null: all.</param>
    /// <param name="page">Which page, from 1.</param>
    /// <param name="cancel">Ends the read.</param>
    public async Task<RecordPage<AuditRow>> AuditAsync(string? words, int page, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        // A blank stands for any sign: settings are kept by names without blanks and shown with them.
        var like = $"%{(words ?? "").Trim().Replace(' ', '_')}%";
        var found = context.Audit.AsNoTracking().Where(a => EF.Functions.Like(a.What, like) || EF.Functions.Like(a.Subject, like));
        var (count, pages, at) = await SizeAsync(found, page, cancel);
        var rows = await found
            .OrderByDescending(a => a.At)
            .ThenByDescending(a => a.Id)
            .Skip((at - 1) * PageSize)
            .Take(PageSize)
            .ToListAsync(cancel);
        var (names, zone) = await NamesAsync(context, cancel);
        return new(
            [
                .. rows.Select(a => new AuditRow(
                    a.Id,
                    Local(a.At, zone),
                    Name(a.By, names),
                    a.What,
                    Subject(a),
                    AuditWords.Of(a.What, a.Before),
                    AuditWords.Of(a.What, a.After)
                )),
            ],
            count,
            at,
            pages
        );
    }

    /// <summary>A page of the security log, newest first.</summary>
    /// <param name="refusedOnly">Only what was refused.</param>
    /// <param name="page">Which page, from 1.</param>
    /// <param name="cancel">Ends the read.</param>
    public async Task<RecordPage<SafetyRow>> SafetyAsync(bool refusedOnly, int page, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var found = context.SecurityEvents.AsNoTracking().Where(e => !refusedOnly || !e.IsGood);
        var (count, pages, at) = await SizeAsync(found, page, cancel);
        var rows = await found
            .OrderByDescending(e => e.At)
            .ThenByDescending(e => e.Id)
            .Skip((at - 1) * PageSize)
            .Take(PageSize)
            .ToListAsync(cancel);
        var (names, zone) = await NamesAsync(context, cancel);
        return new(
            [.. rows.Select(e => new SafetyRow(e.Id, Local(e.At, zone), Name(e.By, names), e.What, Name(e.Subject, names), e.IsGood))],
            count,
            at,
            pages
        );
    }

    private static async Task<(int Count, int Pages, int At)> SizeAsync<T>(IQueryable<T> found, int page, CancellationToken cancel)
    {
        var count = await found.CountAsync(cancel);
        var pages = Math.Max(1, (count + PageSize - 1) / PageSize);
        return (count, pages, Math.Clamp(page, 1, pages));
    }

    private async Task<(Dictionary<string, string> Names, TimeZoneInfo Zone)> NamesAsync(ShopContext context, CancellationToken cancel)
    {
        var names = await context
            .Users.AsNoTracking()
            .ToDictionaryAsync(u => u.Id.ToString(), u => u.DisplayName, StringComparer.Ordinal, cancel);
        foreach (var key in await context.AccessKeys.AsNoTracking().ToListAsync(cancel))
            names[key.Id.ToString()] = key.Name;
        return (names, (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Zone);
    }

    private static string Name(string id, Dictionary<string, string> names) => id == "system" ? System : names.GetValueOrDefault(id, id);

    private static string Subject(AuditEntry a) =>
        a.What == KeepSetting.Changed ? a.Subject.Replace('-', ' ').Replace(':', ' ') : a.Subject;

    private static DateTime Local(DateTimeOffset at, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(at, zone).DateTime;
}
