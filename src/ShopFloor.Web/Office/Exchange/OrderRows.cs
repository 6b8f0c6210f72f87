using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>
/// Orders in a file: a row for each line, lines of one order share its external id. They are judged and priced by the rules of the Counter;
/// the promise is the day that was agreed elsewhere. An order that is known already is left as it is.
/// </summary>
internal sealed class OrderRows(CommandWork work, ShopFacts shop, ImportCount count, ImportMemory memory)
{
    // A promise of a day is kept by its evening.
    private static readonly TimeOnly Evening = new(18, 0);

    private static readonly Dictionary<string, Finish> Finishes = Enum.GetValues<Finish>()
        .ToDictionary(f => f.Words(), f => f, StringComparer.OrdinalIgnoreCase);

    public static IReadOnlyList<CsvColumn> Columns { get; } =
    [
        new("order", IsNeeded: true),
        new("customer", IsNeeded: true),
        new("promised", IsNeeded: true),
        new("material", IsNeeded: true),
        new("finish", IsNeeded: true),
        new("quantity", IsNeeded: true),
        new("width_mm", IsNeeded: true),
        new("height_mm", IsNeeded: true),
        new("thickness_mm", IsNeeded: true),
        new("wall_mm"),
        new("own_piece"),
        new("declared_value"),
        new("nothing_hidden"),
        new("texts"),
        new("light_letters"),
        new("note"),
        new("unit_price"),
        new("wanted"),
        new("rush"),
        new("gift"),
        new("risk_accepted"),
        new("order_note"),
        .. OrderMoney.Columns,
    ];

    /// <summary>Takes the good orders into the command's context; an order with a bad row is left out whole.</summary>
    public static async Task TakeAsync(
        CommandWork work,
        IReadOnlyList<CsvRow> rows,
        ImportCount count,
        ImportMemory memory,
        CancellationToken cancel
    )
    {
        memory.Shop ??= await ShopFacts.LoadAsync(work.Context, work.Now, cancel);
        var customers = await CustomerRows.KnownAsync(work.Context, [.. rows.Select(CustomerOf).Distinct(StringComparer.Ordinal)], cancel);
        var known = await KnownAsync(work.Context, [.. rows.Select(KeyOf).Distinct(StringComparer.Ordinal)], cancel);
        var import = new OrderRows(work, memory.Shop, count, memory);
        foreach (var order in rows.GroupBy(KeyOf, StringComparer.Ordinal))
            if (known.Contains(order.Key))
                count.Same++;
            else
                await import.OneAsync([.. order], customers, cancel);
    }

    /// <summary>What the rows of one order share.</summary>
    internal static string KeyOf(CsvRow row) => row.Cells["order"].Trim();

    private static string CustomerOf(CsvRow row) => row.Cells["customer"].Trim();

    private static async Task<HashSet<string>> KnownAsync(ShopContext context, IReadOnlyList<string> names, CancellationToken cancel)
    {
        var ids = names.Where(n => Guid.TryParseExact(n, "N", out _)).Select(n => new OrderId(Guid.ParseExact(n, "N"))).ToList();
        var found = await context
            .Orders.Where(o => names.Contains(o.ExternalId) || ids.Contains(o.Id))
            .Select(o => new { o.Id, o.ExternalId })
            .ToListAsync(cancel);
        return found.Select(o => NameOf(o.Id, o.ExternalId)).ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>What a file calls an order: the external id, or ours for one that was booked here.</summary>
    internal static string NameOf(OrderId id, string externalId) => externalId.Length > 0 ? externalId : id.Value.ToString("N");

    private async Task OneAsync(IReadOnlyList<CsvRow> rows, Dictionary<string, Customer> customers, CancellationToken cancel)
    {
        var cells = rows.Select(r => new CellReader(r, count.Faults)).ToList();
        var head = cells[0];
        var id = head.Text("order", 100, needed: true);
        var customer = customers.GetValueOrDefault(CustomerOf(rows[0]));
        if (customer is null)
            head.Fault("customer", "There is no customer of this external id: import the customers first.");
        var promised = head.Day("promised", needed: true);
        var input = new OrderInput
        {
            Customer = customer?.Id ?? default,
            ExternalId = id,
            Lines = [.. cells.Select(Line)],
            Wanted = head.Day("wanted"),
            IsRush = head.Flag("rush"),
            IsGift = head.Flag("gift"),
            RiskAccepted = head.Flag("risk_accepted"),
            ContactAgreed = customer?.ConsentAt is not null,
            Note = head.Text("order_note", 2000),
        };
        var money = OrderMoney.Read(head);
        if (!cells.TrueForAll(c => c.IsGood))
            return;
        head.Faults(LineFaults.Of(input, shop.Settings.Day(work.Now)), ColumnOf);
        var judged = input
            .Lines.Select((l, i) => memory.Judged(rows[i].Number, lines => lines.Of(l, shop, input.IsRush, customer!.Group)))
            .ToList();
        foreach (var (line, at) in judged.Select((j, i) => (j, i)))
            cells[at].Faults(LineFaults.Of(input.Lines[at]).Concat(line.Quote.Faults).Distinct(), ColumnOf);
        if (
            !cells.TrueForAll(c => c.IsGood)
            || !money.Fits(head, [.. judged.Select((j, i) => AgreeOn.Price(j.Quote.Price!, input.Lines[i].Piece.IsOwn, shop))], shop)
        )
            return;
        var promise = DayTimes.Utc(promised!.Value, Evening, shop.Settings.Zone);
        var booked = await BookOrder.WriteAsync(work, input, customer!, (shop, judged, promise), cancel);
        head.Faults(booked.Refusals, ColumnOf);
        if (booked.IsOk)
            money.AddTo(work, booked.Value.Order, shop);
        count.New += booked.IsOk ? 1 : 0;
    }

    private static LineInput Line(CellReader cells)
    {
        var price = cells.Money("unit_price", 1_000_000);
        return new LineInput
        {
            Quantity = cells.Whole("quantity", 1, LineFaults.MostPieces),
            Finish = cells.Word("finish", Finishes, Finish.ShowThrough),
            Texts = [.. cells.Text("texts", 20_000).Split('|', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)],
            Placement = PictureOnFace.Whole with { LightLetters = cells.Flag("light_letters") },
            PriceByHand = price,
            PriceReason = price is null ? "" : "agreed in the program it came from",
            Piece = new PieceDescription
            {
                Material = cells.Text("material", 60, needed: true),
                Width = Millimetres(cells, "width_mm"),
                Height = Millimetres(cells, "height_mm"),
                Thickness = Millimetres(cells, "thickness_mm"),
                Wall = Length.FromMillimetres(Math.Clamp(cells.Number("wall_mm", 0, 150) ?? 0, 0, 150)),
                IsOwn = cells.Flag("own_piece"),
                DeclaredValue = cells.Money("declared_value", 1_000_000),
                Hidden = cells.Flag("nothing_hidden") ? HiddenParts.None : HiddenParts.Unseen,
                Note = cells.Text("note", 500),
            },
        };
    }

    private static Length Millimetres(CellReader cells, string column) =>
        cells.Number(column, 0, 2000, needed: true) is { } mm and >= 0 and <= 2000 ? Length.FromMillimetres(mm) : Length.Zero;

    private static string ColumnOf(string field) =>
        field switch
        {
            "width" or "height" or "thickness" or "wall" => field + "_mm",
            "value" => "declared_value",
            "risk" => "risk_accepted",
            "priceReason" or "price" => "unit_price",
            "hidden" => "nothing_hidden",
            "date" => "wanted",
            _ => Columns.Any(c => c.Name == field) ? field : "",
        };
}
