using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Today;

/// <summary>Something that a new shop enters or looks through.</summary>
/// <param name="Key">Names it, see <see cref="FirstStepKeys"/>.</param>
/// <param name="Name">What is to be done.</param>
/// <param name="Href">Where.</param>
/// <param name="IsDone">Whether it is, by what the shop's data say.</param>
public sealed record FirstStep(string Key, string Name, string Href, bool IsDone)
{
    /// <summary>Without it no order can be taken: how a sentence that begins with "when" goes on; empty: orders do not wait for it.</summary>
    public string Needed { get; init; } = "";

    /// <summary>What is missing, or what it is good for.</summary>
    public string Note { get; init; } = "";

    /// <summary>A question that only the owner can answer; null: none.</summary>
    public string? Question { get; init; }

    /// <summary>What came with the program may be right as it is, but for what is asked.</summary>
    public bool MayStay => !IsDone && Question is null && FirstStepKeys.MayStay.Contains(Key);
}

/// <summary>Names of the first steps.</summary>
public static class FirstStepKeys
{
    public const string Workshop = "workshop";
    public const string Tax = "tax";
    public const string People = "people";
    public const string Stations = "stations";
    public const string Cans = "cans";
    public const string Items = "items";
    public const string Recipes = "recipes";
    public const string Prices = "prices";
    public const string SignIns = "sign-ins";

    /// <summary>Those that the owner may call right as they are.</summary>
    public static IReadOnlyList<string> MayStay { get; } = [Tax, Stations, Items, Recipes, Prices, SignIns];
}

/// <summary>What is left to do before the shop runs by itself.</summary>
public sealed record FirstStepsSheet(IReadOnlyList<FirstStep> Steps)
{
    /// <summary>What an order waits for.</summary>
    public IReadOnlyList<string> Needed => [.. Steps.Where(s => !s.IsDone && s.Needed.Length > 0).Select(s => s.Needed)];

    /// <summary>How many are done.</summary>
    public int Done => Steps.Count(s => s.IsDone);
}

/// <summary>Finds what a new shop still lacks, from its data alone.</summary>
public sealed class FirstStepsView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The steps; null once all are done, or once a piece was handed over: then the shop runs.</summary>
    public async Task<FirstStepsSheet?> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Pieces.AnyAsync(p => p.State == PieceState.HandedOver && !p.IsTest, cancel))
            return null;
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        bool Looked(string key) => settings.LookedThrough.Contains(key);
        bool Kept(string key) => settings.Versions.ContainsKey(key);
        FirstStep[] steps =
        [
            Workshop(settings.TaxedOn(settings.Day(time.GetUtcNow()))),
            new(FirstStepKeys.Tax, "Tax rates", "office/taxes", Looked(FirstStepKeys.Tax) || Kept(SettingKeys.Invoices)),
            await PeopleAsync(context, cancel),
            await StationsAsync(context, Looked(FirstStepKeys.Stations), cancel),
            await CansAsync(context, settings.Day(time.GetUtcNow()), cancel),
            await ItemsAsync(context, Looked(FirstStepKeys.Items), cancel),
            new(
                FirstStepKeys.Recipes,
                "Recipes looked through",
                "office/recipes",
                Looked(FirstStepKeys.Recipes) || await context.Recipes.AnyAsync(r => r.Version > 1, cancel)
            ),
            new(FirstStepKeys.Prices, "Prices looked through", "office/prices", Looked(FirstStepKeys.Prices) || Kept(SettingKeys.Rates)),
            await SignInsAsync(context, Looked(FirstStepKeys.SignIns), cancel),
        ];
        return steps.All(s => s.IsDone) ? null : new FirstStepsSheet(steps);
    }

    private static FirstStep Workshop(CurrentSettings settings)
    {
        var p = settings.Profile;
        string[] entries = [p.Name, p.Street, p.City, p.Country, p.Iban + p.AccountWords];
        string[] numbers = [p.VatId, p.TaxNumber, p.RegisterNumber];
        var entered = !entries.Any(string.IsNullOrWhiteSpace);
        return new FirstStep(
            FirstStepKeys.Workshop,
            "Name, address, account, tax number and time zone of the workshop",
            "office/workshop",
            entered && (settings.Invoices.Scheme != TaxScheme.Vat || !numbers.All(string.IsNullOrWhiteSpace))
        )
        {
            Note = entered
                ? "An invoice needs the VAT number, the tax number or the register number."
                : "They stand on letters; an invoice needs them. Promises and plans go by the clock of the time zone.",
        };
    }

    private static async Task<FirstStep> PeopleAsync(ShopContext context, CancellationToken cancel)
    {
        var people = await context.People.AsNoTracking().Where(p => p.IsActive).ToListAsync(cancel);
        return new FirstStep(FirstStepKeys.People, "People and their hours", "office/people", people.Exists(p => p.Shifts.Count > 0))
        {
            Needed = "somebody works here and has hours",
        };
    }

    // Who saved a station has seen its numbers.
    private static async Task<FirstStep> StationsAsync(ShopContext context, bool looked, CancellationToken cancel)
    {
        var open = await context.Stations.Where(s => s.IsActive && s.Version == 0).OrderBy(s => s.Code).ToListAsync(cancel);
        // Spray mist burns: no program can know the rooms, and without an answer nothing keeps spraying and a hot oven apart.
        var booth = await context.Stations.AnyAsync(s => s.IsActive && s.Kind == StationKind.Oven, cancel)
            ? open.Find(s => s.Settings is BoothSettings { SharesAirWith.Count: 0 })
            : null;
        return new FirstStep(
            FirstStepKeys.Stations,
            "Stations with their true sizes",
            booth is null ? "office/stations" : $"office/stations/{booth.Code}",
            booth is null && (looked || open.Count == 0)
        )
        {
            Note = looked ? "" : string.Join(", ", open.Select(s => s.Name)),
            Question = booth is null
                ? null
                : "Is the spray booth in the same room as an oven? Open it, tick the ovens whose air it shares and save; save it without a tick only if they stand in separate rooms.",
        };
    }

    // Any of the finishes is enough for an order; what stands in no can yet is named.
    private static async Task<FirstStep> CansAsync(ShopContext context, DateOnly today, CancellationToken cancel)
    {
        var recipes = (await context.Recipes.AsNoTracking().ToListAsync(cancel))
            .GroupBy(r => r.Name, StringComparer.Ordinal)
            .Select(g => g.MaxBy(r => r.Version)!.Steps.Where(s => s.Coating is not null).ToList())
            .ToList();
        var used = recipes.SelectMany(steps => steps.Select(s => s.Coating!.Value)).ToHashSet();
        var coatings = await context.Coatings.AsNoTracking().OrderBy(c => c.Code).ToListAsync(cancel);
        var cans = await context.Cans.AsNoTracking().Where(c => c.LeftMl > 0).ToListAsync(cancel);
        var there = cans.Where(c => c.Barred(today) is null).Select(c => c.Coating).ToHashSet();
        var missing = coatings.Where(c => used.Contains(c.Kind) && !there.Contains(c.Id)).ToList();
        var lacking = missing.Select(c => c.Kind).ToHashSet();
        // What is wiped on is not planned, so no promise waits for it.
        var one = recipes.Exists(steps => !steps.Exists(s => s.Kind == StepKind.Spray && lacking.Contains(s.Coating!.Value)));
        return new FirstStep(
            FirstStepKeys.Cans,
            "A can of each coating that recipes use",
            "office/stock/receive",
            recipes.Count > 0 && missing.Count == 0
        )
        {
            Needed = one ? "" : "a can of the coatings of one finish is there",
            Note = string.Join(", ", missing.Select(c => c.Name)),
        };
    }

    private static async Task<FirstStep> ItemsAsync(ShopContext context, bool looked, CancellationToken cancel)
    {
        var kinds = await context.StockItems.Select(i => new { i.Kind, i.OnHand }).ToListAsync(cancel);
        bool Has(string kind) => kinds.Exists(i => i.Kind == kind && i.OnHand > 0);
        return new FirstStep(
            FirstStepKeys.Items,
            "Blanks and transfer paper",
            "office/stock",
            looked || (Has(StockItem.Blank) && Has(StockItem.Paper))
        )
        {
            Note = "Enter how many of each are there. Without blanks only own pieces of customers can be taken.",
        };
    }

    private static async Task<FirstStep> SignInsAsync(ShopContext context, bool looked, CancellationToken cancel)
    {
        var roles = await (
            from u in context.Users
            where u.IsActive
            join r in context.UserRoles on u.Id equals r.UserId
            join n in context.Roles on r.RoleId equals n.Id
            select n.Name
        ).ToListAsync(cancel);
        return new FirstStep(
            FirstStepKeys.SignIns,
            "Sign-ins for Counter and Bench",
            "office/sign-ins",
            looked || (roles.Contains(WorkerRole.Counter) && roles.Contains(WorkerRole.Bench))
        )
        {
            Note = "A customer must not stand before the owner's sign-in.",
        };
    }
}
