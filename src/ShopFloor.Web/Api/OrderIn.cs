using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Api;

/// <summary>Who orders.</summary>
/// <param name="ExternalId">Name of the customer in the caller's program; a known one needs nothing else: what is sent of it holds for this order.</param>
/// <param name="Name">Full name.</param>
/// <param name="Email">For the ready notice.</param>
/// <param name="Phone">For a call.</param>
public sealed record CustomerIn(string? ExternalId = null, string? Name = null, string? Email = null, string? Phone = null);

/// <summary>Some pieces alike. Lengths in mm.</summary>
public sealed record LineIn
{
    /// <summary>Key of the material.</summary>
    public string Material { get; init; } = "unknown";

    /// <summary>How it shall look.</summary>
    public required Finish Finish { get; init; }

    /// <summary>How many, from 1.</summary>
    public int Quantity { get; init; } = 1;

    /// <summary>How it stands in space.</summary>
    public Form Form { get; init; }

    /// <summary>Outline of the face.</summary>
    public FaceShape Face { get; init; }

    public decimal WidthMm { get; init; }
    public decimal HeightMm { get; init; }
    public decimal ThicknessMm { get; init; }

    /// <summary>Wall of a hollow, open piece; 0: solid.</summary>
    public decimal WallMm { get; init; }
    public decimal CornerMm { get; init; }
    public decimal HoleMm { get; init; }

    /// <summary>Area of a free outline, mm².</summary>
    public decimal? AreaMm2 { get; init; }

    /// <summary>True for the customer's own piece.</summary>
    public bool OwnPiece { get; init; }

    /// <summary>What the customer says an own piece is worth.</summary>
    public decimal? DeclaredValue { get; init; }

    /// <summary>True when somebody looked and nothing hides inside: no hollow, fuel, battery, liquid, glue, solder, layers, plastic; and no old lacquer, paint, powder coat or wax is on it.</summary>
    public bool NothingHidden { get; init; }

    /// <summary>One text for all pieces, or one for each.</summary>
    public IReadOnlyList<string> Texts { get; init; } = [];

    /// <summary>True when the texts are left free of ink and show the ground, instead of printed black.</summary>
    public bool LightLetters { get; init; }

    /// <summary>In the customer's words.</summary>
    public string Note { get; init; } = "";

    /// <summary>The price fingerprint that a quote gave for this line; only for booking.</summary>
    public string? PriceHash { get; init; }

    /// <summary>The line as the Counter would enter it, or the sizes that are none.</summary>
    public Result<LineInput> ToInput(string at)
    {
        (string Name, decimal Mm)[] sizes =
        [
            ("widthMm", WidthMm),
            ("heightMm", HeightMm),
            ("thicknessMm", ThicknessMm),
            ("wallMm", WallMm),
            ("cornerMm", CornerMm),
            ("holeMm", HoleMm),
        ];
        var wrong = sizes.Where(s => s.Mm is < 0 or > 100_000).ToList();
        if (wrong.Count > 0)
            return Result<LineInput>.Refused([
                .. wrong.Select(s => new Refusal("size-range", "A length is from 0 to 100,000 mm.", $"{at}.{s.Name}")),
            ]);
        return new LineInput
        {
            Quantity = Quantity,
            Finish = Finish,
            Texts = Texts,
            Placement = PictureOnFace.Whole with { LightLetters = LightLetters },
            Piece = new PieceDescription
            {
                Material = Material,
                Form = Form,
                Face = Face,
                Width = Length.FromMillimetres(WidthMm),
                Height = Length.FromMillimetres(HeightMm),
                Thickness = Length.FromMillimetres(ThicknessMm),
                Wall = Length.FromMillimetres(WallMm),
                Corner = Length.FromMillimetres(CornerMm),
                Hole = Length.FromMillimetres(HoleMm),
                FreeAreaSquareMillimetres = AreaMm2,
                IsOwn = OwnPiece,
                DeclaredValue = DeclaredValue,
                Hidden = NothingHidden ? HiddenParts.None : HiddenParts.Unseen,
                Note = Note,
            },
        };
    }
}

/// <summary>An order, to be priced or booked.</summary>
public sealed record OrderIn
{
    public CustomerIn Customer { get; init; } = new();
    public required IReadOnlyList<LineIn> Lines { get; init; }

    /// <summary>Name of the order in the caller's program; booked once.</summary>
    public string ExternalId { get; init; } = "";
    public DateOnly? Wanted { get; init; }
    public bool Rush { get; init; }
    public bool Gift { get; init; }

    /// <summary>The customer read that an own piece can be lost, and accepts it.</summary>
    public bool RiskAccepted { get; init; }

    /// <summary>The customer agrees that the contact data is kept for this order.</summary>
    public bool ContactAgreed { get; init; }

    /// <summary>Language the customer was asked in.</summary>
    public string Language { get; init; } = "en";
    public string Note { get; init; } = "";

    /// <summary>The order as the Counter would enter it, or everything that is wrong with its form.</summary>
    public Result<OrderInput> ToInput()
    {
        var lines = Lines.Select((l, i) => l.ToInput($"lines.{i}")).ToList();
        List<Refusal> faults = [.. lines.SelectMany(l => l.Refusals)];
        if (Lines.Count is 0 or > LineFaults.MostLines)
            faults.Add(new Refusal("lines", $"An order has between 1 and {LineFaults.MostLines} lines.", "lines"));
        if (ExternalId.Length > 100 || Customer.ExternalId?.Length > 100)
            faults.Add(new Refusal("external-id-long", "An external id has at most 100 characters.", "externalId"));
        if (faults.Count > 0)
            return Result<OrderInput>.Refused(faults);
        return new OrderInput
        {
            CustomerExternalId = Customer.ExternalId ?? "",
            Contact = new Contact(Customer.Name ?? "", Customer.Email ?? "", Customer.Phone ?? ""),
            Lines = [.. lines.Select(l => l.Value)],
            ExternalId = ExternalId,
            Wanted = Wanted,
            IsRush = Rush,
            IsGift = Gift,
            RiskAccepted = RiskAccepted,
            ContactAgreed = ContactAgreed,
            Language = Language,
            Note = Note,
            ShownPriceHashes = [.. Lines.Select(l => l.PriceHash ?? "")],
        };
    }
}
