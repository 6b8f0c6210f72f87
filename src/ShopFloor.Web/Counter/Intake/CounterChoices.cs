using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Seasons;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>A piece that the workshop supplies.</summary>
/// <param name="Code">Its stock code.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Piece">Material, size and thickness.</param>
/// <param name="OnHand">How many are there.</param>
public sealed record BlankChoice(string Code, string Name, PieceDescription Piece, decimal OnHand)
{
    /// <summary>What it is called in other languages, by their two letters.</summary>
    public IReadOnlyDictionary<string, string> Names { get; init; } = new Dictionary<string, string>();

    /// <summary>Its name in the language of the screen; as the owner calls it where there is none.</summary>
    public string Shown => Names.GetValueOrDefault(CultureInfo.CurrentUICulture.TwoLetterISOLanguageName, Name);
}

/// <summary>What can be chosen at the Counter.</summary>
/// <param name="Materials">By key, as the owner edits them.</param>
/// <param name="Finishes">Finishes that suit a material, by its key.</param>
/// <param name="Blanks">Pieces of the workshop.</param>
/// <param name="Currency">ISO 4217.</param>
/// <param name="Print">By what pictures are laid and judged.</param>
/// <param name="PricesIncludeTax">What customers are shown.</param>
/// <param name="MostLiability">The most the workshop answers for an own piece.</param>
/// <param name="Zone">The shop's zone.</param>
/// <param name="Today">The shop's day.</param>
/// <param name="PublicAddress">Address for links; empty: as the page was asked for.</param>
public sealed record CounterChoices(
    IReadOnlyDictionary<string, MaterialSheet> Materials,
    IReadOnlyDictionary<string, IReadOnlyList<Finish>> Finishes,
    IReadOnlyList<BlankChoice> Blanks,
    string Currency,
    PrintRules Print,
    bool PricesIncludeTax,
    decimal MostLiability,
    TimeZoneInfo Zone,
    DateOnly Today,
    string PublicAddress
)
{
    /// <summary>Picture beyond the edge.</summary>
    public decimal BleedMillimetres => Print.BleedMillimetres;

    /// <summary>What the shelves and platens take.</summary>
    public IReadOnlyList<SizeReach> Sizes { get; init; } = [];

    /// <summary>How many coats make each look.</summary>
    public LookCoats Coats { get; init; } = new([]);

    /// <summary>Seasons that are near.</summary>
    public IReadOnlyList<Season> Seasons { get; init; } = [];

    /// <summary>Share of the day that is kept free when promising.</summary>
    public decimal Reserve { get; init; }

    /// <summary>A material by key; the sheet of the unknown for any other.</summary>
    public MaterialSheet Material(string key) => Materials.GetValueOrDefault(key) ?? ShippedMaterials.Unknown;

    /// <summary>The finishes for a material.</summary>
    public IReadOnlyList<Finish> FinishesFor(string key) => Finishes.GetValueOrDefault(key) ?? Finishes[ShippedMaterials.Unknown.Key];

    /// <summary>An instant as the shop's local time.</summary>
    public DateTimeOffset Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, Zone);
}

/// <summary>Reads what can be chosen.</summary>
public sealed class CounterChoicesView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    public async Task<CounterChoices> RunAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var shop = await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel);
        var (settings, profile) = (shop.Settings, shop.Settings.Profile);
        var finishes = settings
            .Materials.Values.Append(ShippedMaterials.Unknown)
            .DistinctBy(m => m.Key)
            .ToDictionary(m => m.Key, shop.FinishesFor);
        return new CounterChoices(
            settings.Materials,
            finishes,
            [.. shop.Items.Select(Blank).OfType<BlankChoice>()],
            profile.Currency,
            PrintRules.Of(profile),
            profile.PricesIncludeTax,
            settings.Inputs.MostLiability,
            settings.Zone,
            settings.Day(shop.At),
            profile.PublicAddress
        )
        {
            Reserve = profile.Reserve,
            Seasons = SeasonSheet.Of(settings, settings.Day(shop.At)).Near,
            Coats = new LookCoats(shop.Recipes),
            Sizes = shop.Sizes,
        };
    }

    private static BlankChoice? Blank(StockItem item) =>
        Blanks.Description(item.BlankJson) is { } piece
            ? new BlankChoice(item.Code, item.Name, piece, item.OnHand) { Names = Blanks.Names(item.BlankJson) }
            : null;
}
