using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Finds the pieces that a scan or tap is about.</summary>
internal static class Chosen
{
    /// <summary>The one written form of what was scanned or typed: a label's address gives its last part.</summary>
    internal static string Clean(string? typed)
    {
        var text = (typed ?? "").Trim();
        if (text.Contains('/', StringComparison.Ordinal))
            text = text.TrimEnd('/')[(text.TrimEnd('/').LastIndexOf('/') + 1)..];
        return text.Length > 60 ? text[..60] : text.ToUpperInvariant();
    }

    /// <summary>The piece of that code, with the alike letters read as one; null: none.</summary>
    internal static async Task<Piece?> PieceAsync(ShopContext context, string code, CancellationToken cancel)
    {
        var wanted = Alike(code);
        return await context.Pieces.FirstOrDefaultAsync(p => p.Code == wanted, cancel);
    }

    /// <summary>A short code with look-alike letters read as what they are; anything else as it is.</summary>
    internal static string Alike(string code) => ShortCode.Read(code) is { IsOk: true } read ? read.Value : code;

    /// <summary>One piece as it is, or those of a tray or batch that suit, as many as wanted.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="target">What is meant.</param>
    /// <param name="suits">Which pieces of a tray or batch are up for it.</param>
    /// <param name="forWhat">For words, e.g. <c>ready for Wipe promoter</c>.</param>
    /// <param name="cancel">Ends the search.</param>
    internal static async Task<Result<IReadOnlyList<Piece>>> FindAsync(
        ShopContext context,
        Target target,
        Func<Piece, bool> suits,
        string forWhat,
        CancellationToken cancel = default
    )
    {
        var code = Clean(target.Code);
        if (await PieceAsync(context, code, cancel) is { } one)
            return Result<IReadOnlyList<Piece>>.Ok([one]);
        var all = await ManyAsync(context, code, cancel);
        if (all.Count == 0)
            return new Refusal("code-unknown", $"Nothing in the workshop has the code {code}.", "code");
        var some = all.Where(suits).OrderBy(p => p.Number).ThenBy(p => p.Code, StringComparer.Ordinal).ToList();
        if (some.Count == 0)
            return new Refusal("none-up", $"No piece of {code} is {forWhat} any more. Look at what is new.");
        if (target.Only is { } only)
            return only.FirstOrDefault(c => !some.Exists(p => p.Code == c)) is { } gone
                ? new Refusal("none-up", $"{gone} is not {forWhat} any more. Look at what is new.")
                : Result<IReadOnlyList<Piece>>.Ok(some.FindAll(p => only.Contains(p.Code)));
        if (target.Count is { } wanted && (wanted < 1 || wanted > some.Count))
            return new Refusal("count", $"{some.Count} of {code} are {forWhat}: choose from 1 to {some.Count}.", "count");
        return Result<IReadOnlyList<Piece>>.Ok([.. some.Take(target.Count ?? some.Count)]);
    }

    /// <summary>The same for a step that somebody saw: the second person at a tray is told who was faster.</summary>
    internal static async Task<Result<IReadOnlyList<Piece>>> FindAsync(
        CommandWork work,
        Target target,
        WorkState wanted,
        Func<Piece, bool> suits,
        string forWhat
    )
    {
        var found = await FindAsync(work.Context, target, suits, forWhat);
        if (found.IsOk || found.Refusals[0].Code is not ("none-up" or "count"))
            return found;
        var tray = await TrayAsync(work.Context, Clean(target.Code), default);
        foreach (var piece in tray.Where(p => target.Only?.Contains(p.Code) != false && !suits(p)).OrderByDescending(p => p.ChangedAt))
            if (await WhoWasFirst.AskAsync(work, piece, target.Step ?? 0, wanted) is { } faster)
                return found.Refusals[0].Code == "none-up"
                    ? faster
                    : Result<IReadOnlyList<Piece>>.Refused([.. found.Refusals, WhoWasFirst.OnlySaid(faster)]);
        return found;
    }

    /// <summary>The pieces of a tray.</summary>
    internal static Task<List<Piece>> TrayAsync(ShopContext context, string code, CancellationToken cancel)
    {
        var wanted = Alike(code);
        return context.Pieces.Where(p => p.Tray == wanted).ToListAsync(cancel);
    }

    private static async Task<List<Piece>> ManyAsync(ShopContext context, string code, CancellationToken cancel)
    {
        var tray = await TrayAsync(context, code, cancel);
        if (tray.Count > 0)
            return tray;
        if (await context.Batches.FirstOrDefaultAsync(b => b.Code == code, cancel) is not { } batch)
            return [];
        var ids = batch.Places.Select(p => p.Piece).ToList();
        return await context.Pieces.Where(p => ids.Contains(p.Id)).ToListAsync(cancel);
    }
}
