using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Stock;

/// <summary>What is typed into a stock item's page.</summary>
public sealed class ItemForm
{
    private static readonly StockItemFacts New = new("", "pieces", 0, 0, 5, 1);
    private readonly ItemDetail? item;

    /// <summary>The form of an item, or of a new one.</summary>
    public ItemForm(ItemDetail? item, string currency)
    {
        this.item = item;
        var facts = item?.Facts ?? New;
        (Name, Unit, German) = (facts.Name, facts.Unit, item?.Names.GetValueOrDefault("de"));
        Numbers = new NumberEntries<StockItemFacts>(item is null ? [Price(currency), .. Numbered] : Numbered, facts);
    }

    public string? Code { get; set; } = "";
    public string? Kind { get; set; } = StockItem.Blank;
    public string? Name { get; set; }
    public string? Unit { get; set; }

    /// <summary>What a blank is called at a Counter that speaks German; empty: as everywhere.</summary>
    public string? German { get; set; }

    /// <summary>True for what customers choose at the Counter.</summary>
    public bool IsBlank => (item?.Kind ?? Kind) == StockItem.Blank;

    /// <summary>How many of a new item are there; empty: none.</summary>
    public string? There { get; set; }

    public string? PaperSize { get; set; } = "A4";
    public string? Material { get; set; } = "al";
    public FaceShape Face { get; set; }
    public string? Width { get; set; }
    public string? Height { get; set; }
    public string? Thickness { get; set; }

    /// <summary>The numbers.</summary>
    public NumberEntries<StockItemFacts> Numbers { get; private init; }

    /// <summary>What somebody else changed before this could be saved.</summary>
    public IReadOnlyList<ChangedField> Meanwhile { get; private init; } = [];

    /// <summary>This form on the item as somebody else left it: what was entered stays, the rest follows.</summary>
    public ItemForm Follow(ItemDetail now)
    {
        var (before, fresh, meanwhile) = (new ItemForm(item, now.Currency), new ItemForm(now, now.Currency), new Meanwhile());
        return new ItemForm(now, now.Currency)
        {
            Meanwhile = meanwhile.Fields,
            Name = meanwhile.Take("Name", Name, before.Name, fresh.Name),
            German = meanwhile.Take("Name in German", German, before.German, fresh.German),
            Unit = meanwhile.Take("Counted in", Unit, before.Unit, fresh.Unit),
            Numbers = Numbers.Follow(before.Numbers, fresh.Numbers, meanwhile),
        };
    }

    /// <summary>What to save, or every field that cannot be read.</summary>
    public Result<ItemInput> Read()
    {
        var facts = Numbers.Read();
        var faults = facts.Refusals.ToList();
        var blank = item is null && Kind == StockItem.Blank ? Blank(faults) : null;
        var there = item is null && !string.IsNullOrWhiteSpace(There) ? NumberText.Clear(There, "there") : Result<decimal>.Ok(0m);
        faults.AddRange(there.Refusals);
        if (faults.Count > 0)
            return Result<ItemInput>.Refused(faults);
        var known = facts.Value with { Name = Name ?? "", Unit = Unit ?? "" };
        return item is null
            ? new ItemInput((Code ?? "").Trim(), null, Kind ?? "", known, PaperSize ?? "", blank, Names) { There = there.Value }
            : new ItemInput(item.Code, item.Version, item.Kind, known, Names: Names);
    }

    // Of other languages than German nothing is asked; what is kept of them stays.
    private Dictionary<string, string>? Names
    {
        get
        {
            if (!IsBlank)
                return null;
            var names = new Dictionary<string, string>(item?.Names ?? new Dictionary<string, string>());
            names.Remove("de");
            if (!string.IsNullOrWhiteSpace(German))
                names["de"] = German.Trim();
            return names;
        }
    }

    private PieceDescription Blank(List<Refusal> faults)
    {
        Length Side(string? text, string field)
        {
            var read = NumberText.Clear(text, field);
            if (read is { IsOk: true, Value: > 0 and <= 3000 })
                return Length.FromMillimetres(read.Value);
            faults.AddRange(read.IsOk ? [new Refusal("out-of-range", "Enter above 0 and at most 3,000 mm.", field)] : read.Refusals);
            return default;
        }
        var width = Side(Width, "width");
        return new PieceDescription
        {
            Material = Material ?? "",
            Face = Face,
            Width = width,
            Height = Face is FaceShape.Disc ? width : Side(Height, "height"),
            Thickness = Side(Thickness, "thickness"),
            Hidden = HiddenParts.None,
        };
    }

    // Asked of a new item only: from then on its prices are dated and have a form of their own.
    private static NumberOf<StockItemFacts> Price(string currency) =>
        new("price", "Price of one, without tax", currency, f => f.Price, (f, v) => f with { Price = v!.Value }, IsMoney: true);

    private static IReadOnlyList<NumberOf<StockItemFacts>> Numbered { get; } =
    [
        new("reorderAt", "Order again at or below", "", f => f.ReorderAt, (f, v) => f with { ReorderAt = v!.Value }, IsCount: true),
        new(
            "leadDays",
            "Delivery takes",
            "days",
            f => f.LeadDays,
            (f, v) => f with { LeadDays = decimal.ToInt32(v!.Value) },
            IsCount: true
        ),
        new("usedEach", "One use takes", "", f => f.UsedEach, (f, v) => f with { UsedEach = v!.Value }),
    ];
}
