using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Status;

/// <summary>One line on a customer's own page.</summary>
/// <param name="Number">1, 2, 3 …</param>
/// <param name="Entry">The line as it can be drawn.</param>
/// <param name="Finish">How it will look.</param>
/// <param name="Material">On what.</param>
/// <param name="States">How many pieces are in each state, as the life of a piece goes.</param>
public sealed record StatusLine(
    int Number,
    LineEntry Entry,
    Finish Finish,
    MaterialSheet Material,
    IReadOnlyList<(PieceState State, int Count)> States
);

/// <summary>What a customer's own page shows: progress, and nothing personal.</summary>
/// <param name="Number">The order's number.</param>
/// <param name="Promised">The promised instant in the shop's time.</param>
/// <param name="Proof">Whether the picture waits for a word.</param>
/// <param name="CanJudge">False once it is printed or called off.</param>
/// <param name="IsCancelled">Called off.</param>
/// <param name="Bleed">Picture beyond the edge, mm.</param>
/// <param name="Lines">The lines.</param>
public sealed record CustomerStatus(
    int Number,
    DateTimeOffset Promised,
    ProofState Proof,
    bool CanJudge,
    bool IsCancelled,
    decimal Bleed,
    IReadOnlyList<StatusLine> Lines
);

/// <summary>Finds an order by its secret link.</summary>
public sealed class StatusView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>How long the link is good after the last piece went out.</summary>
    private static readonly TimeSpan Life = TimeSpan.FromDays(90);

    /// <summary>The order's page; null for a link that is none or no more.</summary>
    public async Task<CustomerStatus?> RunAsync(string token, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await FindAsync(context, token, cancel) is not { } order)
            return null;
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => !p.IsTest)
            .Where(p => p.Order == order.Id)
            .Select(p => new
            {
                p.Line,
                p.State,
                p.ChangedAt,
            })
            .ToListAsync(cancel);
        var over =
            pieces.Count > 0 && pieces.TrueForAll(p => p.State is PieceState.HandedOver or PieceState.Returned or PieceState.Spoiled);
        if (over && pieces.Max(p => p.ChangedAt) + Life < time.GetUtcNow())
            return null;
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var ids = order.Lines.Select(l => l.Picture).OfType<PictureId>().ToList();
        var pictures = await context.Pictures.AsNoTracking().Where(p => ids.Contains(p.Id)).ToListAsync(cancel);
        StatusLine Line(OrderLine line) =>
            new(
                line.Number,
                LineAgain.Of(line, pictures.Find(p => p.Id == line.Picture), settings.Profile.BleedMillimetres),
                line.Finish,
                settings.Material(line.Piece.Material),
                [.. pieces.Where(p => p.Line == line.Id).GroupBy(p => p.State).OrderBy(g => g.Key).Select(g => (g.Key, g.Count()))]
            );
        return new CustomerStatus(
            order.Number,
            TimeZoneInfo.ConvertTime(order.PromisedAt, settings.Zone),
            order.Proof,
            order.PrintedAt is null && order.CancelledAt is null && order.Proof == ProofState.Waiting,
            order.CancelledAt is not null,
            settings.Profile.BleedMillimetres,
            [.. order.Lines.OrderBy(l => l.Number).Select(Line)]
        );
    }

    /// <summary>The order of a secret link.</summary>
    internal static async Task<Order?> FindAsync(ShopContext context, string token, CancellationToken cancel)
    {
        if (token.Length is < 20 or > 100)
            return null;
        var hash = Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(token)));
        return await context.Orders.FirstOrDefaultAsync(o => o.StatusLinkHash == hash, cancel);
    }
}
