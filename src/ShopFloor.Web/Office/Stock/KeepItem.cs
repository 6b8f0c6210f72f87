using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Stock;

/// <summary>A stock item as the owner entered it.</summary>
/// <param name="Code">Short name, lower-case letters, digits and hyphens, 1 to 40.</param>
/// <param name="SeenVersion">Its version when the page showed it; null: it is new.</param>
/// <param name="Kind">Kind of a new item.</param>
/// <param name="Facts">Name, price, reorder point and so on.</param>
/// <param name="PaperSize">Size of a new paper.</param>
/// <param name="Blank">What a new blank is.</param>
/// <param name="Names">What a blank is called at the Counter in other languages, by their two letters; null: as it is.</param>
public sealed record ItemInput(
    string Code,
    int? SeenVersion,
    string Kind,
    StockItemFacts Facts,
    string PaperSize = "",
    PieceDescription? Blank = null,
    IReadOnlyDictionary<string, string>? Names = null
)
{
    /// <summary>How many of a new item are there, 0 to 1,000,000: its first count.</summary>
    public decimal There { get; init; }
}

/// <summary>Adds a stock item or changes what is known of one; its count is changed by deliveries, use and counting only. A
/// new one begins with its first count.</summary>
public sealed class KeepItem(CommandRunner runner) : IUseCase
{
    /// <summary>Adds or changes it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, ItemInput input, CancellationToken cancel = default) =>
        runner.RunAsync<ItemInput, Done>(nameof(KeepItem), Allowed.Owner, asked, input, work => DecideAsync(work, input, cancel), cancel);

    private static async Task<Result<Done>> DecideAsync(CommandWork work, ItemInput input, CancellationToken cancel)
    {
        var item = await work.Context.StockItems.FirstOrDefaultAsync(i => i.Code == input.Code, cancel);
        if (input.SeenVersion is not { } seen)
            return item is null ? Add(work, input) : new Refusal("code-taken", $"There is an item {input.Code} already.", "code");
        if (item is null)
            return new Refusal("item-missing", "This item is no longer there.");
        if (CommandWork.IfChanged(seen, item.Version, item.Name) is { } changed)
            return changed;
        if (NameFaults(input) is { Count: > 0 } faults)
            return Result<Done>.Refused(faults);
        var before = Text(item);
        var done = item.Change(input.Facts);
        if (!done.IsOk)
            return done;
        if (input.Names is { } names && Blanks.Description(item.BlankJson) is { } blank)
            item.Named(Blanks.Json(blank, names));
        Written(work, item, before);
        return done;
    }

    private static Result<Done> Add(CommandWork work, ItemInput input)
    {
        var faults = input.Facts.Faults().Concat(NameFaults(input)).ToList();
        if (input.Code.Length is < 1 or > 40 || input.Code.Any(c => !char.IsAsciiLetterLower(c) && !char.IsAsciiDigit(c) && c != '-'))
            faults.Add(new Refusal("code", "The short name has small letters, digits and hyphens, like plate-100x60.", "code"));
        if (input.Kind.Trim().Length is 0 or > 20)
            faults.Add(new Refusal("kind", "Choose what kind of stock it is.", "kind"));
        if (
            input.Kind == StockItem.Blank
            && input.Blank is not { Width.Micrometres: > 0, BoxHeight.Micrometres: > 0, Thickness.Micrometres: > 0 }
        )
            faults.Add(new Refusal("blank", "Say what the blank is: material, width, height and thickness.", "width"));
        if (input.There is < 0 or > 1_000_000)
            faults.Add(new Refusal("counted", "A count is from 0 to 1,000,000.", "there"));
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        var f = input.Facts;
        var item = new StockItem(input.Code, f.Name.Trim(), input.Kind, f.Unit.Trim(), 0, f.ReorderAt, f.Price)
        {
            PaperSize = input.Kind == StockItem.Paper ? input.PaperSize : "",
            BlankJson = input.Kind == StockItem.Blank ? Blanks.Json(input.Blank!, input.Names ?? new Dictionary<string, string>()) : "",
        };
        _ = item.Change(f);
        work.Context.StockItems.Add(item);
        if (input.There > 0)
            work.Move(item, input.There, new StockCause(StockReason.Correction, Note: "first count"));
        Written(work, item, "");
        return default(Done);
    }

    private static void Written(CommandWork work, StockItem item, string before)
    {
        work.Audit("stock item changed", item.Code, before, Text(item));
        work.Touch(Topic.Stock, Guid.Empty);
    }

    private static List<Refusal> NameFaults(ItemInput input) =>
        [
            .. (input.Names ?? new Dictionary<string, string>())
                .Where(n => n.Value.Length is 0 or > 80)
                .Select(n => new Refusal("out-of-range", "A name has at most 80 characters.", $"name-{n.Key}")),
        ];

    private static string Text(StockItem item)
    {
        var node = JsonSerializer.SerializeToNode(item.Facts, JsonForms.Default)!.AsObject();
        foreach (var (language, name) in Blanks.Names(item.BlankJson))
            node[$"name-{language}"] = name;
        return node.ToJsonString(JsonForms.Default);
    }
}
