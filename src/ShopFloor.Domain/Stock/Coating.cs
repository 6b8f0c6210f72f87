using ShopFloor.Domain.Film;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Stock;

/// <summary>What is known of a coating, from its data sheet and the owner's own weighing.</summary>
public sealed record CoatingSettings
{
    /// <summary>Volume solids of the whole can content, %.</summary>
    public decimal VolumeSolidsPercent { get; init; }

    /// <summary>Dry film wanted, µm.</summary>
    public decimal DryFilmMicrometres { get; init; }

    /// <summary>Share of what is sprayed that stays on the sprayed rectangle, 0 to 1.</summary>
    public decimal TransferEfficiency { get; init; }

    /// <summary>Fan margin beyond the piece on each side, mm.</summary>
    public decimal OversprayMarginMillimetres { get; init; }

    /// <summary>Shake before use, seconds.</summary>
    public int ShakeSeconds { get; init; } = 60;

    /// <summary>Shaken again after such a pause, seconds.</summary>
    public int ShakeAgainAfterSeconds { get; init; } = 300;

    /// <summary>Solvent in the wet coat, g per ml.</summary>
    public decimal SolventGramsPerMl { get; init; }

    /// <summary>Key of the solvent in the list of hazards.</summary>
    public string Solvent { get; init; } = "";

    /// <summary>Content of a new can, ml.</summary>
    public decimal CanMl { get; init; } = 400;

    /// <summary>The same as the computation of films takes them.</summary>
    public Film.FilmSettings AsFilm() =>
        new(
            (double)DryFilmMicrometres,
            (double)VolumeSolidsPercent,
            (double)TransferEfficiency * 100,
            (double)OversprayMarginMillimetres,
            (double)CanMl
        );

    /// <summary>Purchase price of a can before the first dated one, without tax.</summary>
    public decimal CanPrice { get; init; }

    /// <summary>Purchase prices from a day on, by day; at most <see cref="DatedPrice.Most"/>.</summary>
    public IReadOnlyList<DatedPrice> Prices { get; init; } = [];

    /// <summary>Days from order to delivery.</summary>
    public int LeadDays { get; init; } = 5;

    /// <summary>Order again at or below this, ml.</summary>
    public decimal ReorderAtMl { get; init; } = 200;

    /// <summary>What a square metre takes when it is wiped on, ml; 0: it is not counted.</summary>
    public decimal WipedMlPerSquareMetre { get; init; }

    /// <summary>Weight of the empty can without its cap, g; null: not known yet.</summary>
    public decimal? EmptyCanGrams { get; init; }

    /// <summary>Density of the whole can content, g/ml: net weight over net volume on the label; null: not known yet.</summary>
    public decimal? ContentGramsPerMl { get; init; }

    /// <summary>Purchase price of a can on a day, without tax.</summary>
    public decimal CanPriceOn(DateOnly day) => DatedPrice.On(CanPrice, Prices, day);

    /// <summary>Purchase price of a millilitre on a day, without tax.</summary>
    public decimal MlPriceOn(DateOnly day) => CanPriceOn(day) / CanMl;

    /// <summary>These settings with a price from a day on; one of the same day is replaced.</summary>
    public CoatingSettings PricedFrom(DateOnly day, decimal price) =>
        this with
        {
            Prices = DatedPrice.With(Prices, new DatedPrice(day, price)),
        };

    /// <summary>These settings with what a weighing found: solids to 0.01 %, transfer to 0.001, film to 0.1 µm.</summary>
    public CoatingSettings With(CalibratedFilm weighed) =>
        this with
        {
            VolumeSolidsPercent = Rounded(weighed.VolumeSolidsPercent, 2),
            TransferEfficiency = Rounded(weighed.TransferEfficiencyPercent / 100, 3),
            DryFilmMicrometres = Rounded(weighed.DryFilmMicrometres, 1),
        };

    private static decimal Rounded(double value, int places) => Math.Round((decimal)value, places, MidpointRounding.AwayFromZero);

    /// <summary>What is wrong, beside its field.</summary>
    public IReadOnlyList<Refusal> Faults()
    {
        var faults = new List<Refusal>();
        void Check(bool ok, string field, string text)
        {
            if (!ok)
                faults.Add(new Refusal("out-of-range", text, field));
        }
        Check(VolumeSolidsPercent is > 0 and <= 100, "solids", "Volume solids are above 0 and at most 100 %.");
        Check(DryFilmMicrometres is > 0 and <= 500, "film", "The dry film is above 0 and at most 500 µm.");
        Check(TransferEfficiency is > 0 and <= 1, "transfer", "The transfer efficiency is above 0 and at most 1.");
        Check(OversprayMarginMillimetres is >= 0 and <= 200, "margin", "The fan's margin is from 0 to 200 mm.");
        Check(ShakeSeconds is >= 1 and <= 1800, "shake", "Shaking takes 1 to 1,800 seconds.");
        Check(ShakeAgainAfterSeconds is >= 1 and <= 36_000, "shakeAgain", "The pause is from 1 to 36,000 seconds.");
        Check(CanMl is > 0 and <= 20_000, "can", "A can holds above 0 and at most 20,000 ml.");
        Check(CanPrice is >= 0 and <= 10_000 && Prices.All(p => p.Price is >= 0 and <= 10_000), "price", "A can costs from 0 to 10,000.");
        Check(Prices.Count <= DatedPrice.Most, "price", "A coating has at most 200 dated prices.");
        Check(LeadDays is >= 0 and <= 365, "lead", "Delivery takes from 0 to 365 days.");
        Check(ReorderAtMl is >= 0 and <= 100_000, "reorderAt", "The reorder point is from 0 to 100,000 ml.");
        Check(WipedMlPerSquareMetre is >= 0 and <= 1000, "wiped", "Wiped on, a square metre takes from 0 to 1,000 ml.");
        Check(EmptyCanGrams is null or (> 0 and <= 2000), "empty", "An empty can weighs above 0 and at most 2,000 g.");
        Check(ContentGramsPerMl is null or (>= 0.4m and <= 2), "density", "The content's density is from 0.4 to 2 g/ml.");
        return faults;
    }
}

/// <summary>A coating the shop uses.</summary>
public sealed class Coating
{
    private Coating() { }

    /// <summary>A coating.</summary>
    public Coating(CoatingId id, CoatingKind kind, string code, string name, CoatingSettings settings)
    {
        (Id, Kind, Code, Name, Settings) = (id, kind, code, name, settings);
    }

    /// <summary>Names it.</summary>
    public CoatingId Id { get; private set; }

    /// <summary>Which of the five.</summary>
    public CoatingKind Kind { get; private set; }

    /// <summary>Short name in plans, e.g. <c>clear</c>.</summary>
    public string Code { get; private set; } = "";

    /// <summary>What people call it.</summary>
    public string Name { get; private set; } = "";

    /// <summary>What is known of it.</summary>
    public CoatingSettings Settings { get; private set; } = new();

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Changes it.</summary>
    public Result<Done> Change(string name, CoatingSettings settings)
    {
        var faults = settings.Faults();
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        if (string.IsNullOrWhiteSpace(name) || name.Length > 60)
            return new Refusal("name-missing", "Give the coating a name of at most 60 characters.", "name");
        (Name, Settings) = (name.Trim(), settings);
        Version++;
        return default(Done);
    }
}
