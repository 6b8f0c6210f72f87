using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Seasons;
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
)
{
    /// <summary>Coats that make the look.</summary>
    public int Coats { get; init; } = 1;

    /// <summary>The customer's picture is still to come.</summary>
    public bool WaitsForPicture { get; init; }
}

/// <summary>A paper of the order that was issued.</summary>
/// <param name="Id">Names it.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Number">Its number.</param>
/// <param name="Day">When issued.</param>
public sealed record StatusPaper(Guid Id, string Kind, string Number, DateOnly Day);

/// <summary>What a customer's own page shows: progress, and nothing personal.</summary>
/// <param name="Number">The order's number.</param>
/// <param name="Promised">The promised instant in the shop's time.</param>
/// <param name="Proof">Whether the picture waits for a word.</param>
/// <param name="CanJudge">False once it is printed or called off.</param>
/// <param name="IsCancelled">Called off.</param>
/// <param name="Rules">By what pictures are laid and judged.</param>
/// <param name="Lines">The lines.</param>
/// <param name="Questions">What the workshop wants to know.</param>
/// <param name="Papers">Invoices and the like; their files carry the customer's name.</param>
public sealed record CustomerStatus(
    int Number,
    DateTimeOffset Promised,
    ProofState Proof,
    bool CanJudge,
    bool IsCancelled,
    PrintRules Rules,
    IReadOnlyList<StatusLine> Lines,
    IReadOnlyList<OrderQuestion> Questions,
    IReadOnlyList<StatusPaper> Papers
)
{
    /// <summary>Stands for what is shown to be judged; goes back with the customer's word.</summary>
    public string Stamp { get; init; } = "";

    /// <summary>How the customer's pieces stand.</summary>
    public IReadOnlyList<PieceStand> Stands { get; init; } = [];

    /// <summary>What is said of seasons that are near, while the order is waited for.</summary>
    public IReadOnlyList<SeasonSaid> Seasons { get; init; } = [];
}

/// <summary>Finds an order by its secret link.</summary>
public sealed class StatusView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The order's page; null for a link that is none or no more.</summary>
    public async Task<CustomerStatus?> RunAsync(string token, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await FindLivingAsync(context, token, time.GetUtcNow(), cancel) is not { } order)
            return null;
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => !p.IsTest)
            .Where(p => p.Order == order.Id)
            .Select(p => new { p.Line, p.State })
            .ToListAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var coats = await LookCoats.LoadAsync(context, time.GetUtcNow(), cancel);
        var ids = order.Lines.Select(l => l.Picture).OfType<PictureId>().ToList();
        var pictures = await context.Pictures.AsNoTracking().Where(p => ids.Contains(p.Id)).ToListAsync(cancel);
        var stands = await StandsAsync(context, order.Id, cancel);
        var isWaited = order.CancelledAt is null && !Readiness.IsReady(stands) && (stands.Count == 0 || stands.Any(s => !s.State.IsEnd()));
        StatusLine Line(OrderLine line) =>
            new(
                line.Number,
                LineAgain.Of(line, pictures.Find(p => p.Id == line.Picture), settings.Profile.BleedMillimetres),
                line.Finish,
                settings.Material(line.Piece.Material),
                [.. pieces.Where(p => p.Line == line.Id).GroupBy(p => p.State).OrderBy(g => g.Key).Select(g => (g.Key, g.Count()))]
            )
            {
                Coats = coats.Of(line.Finish, settings.Material(line.Piece.Material)),
                WaitsForPicture = order.WithoutPicture().Contains(line),
            };
        return new CustomerStatus(
            order.Number,
            TimeZoneInfo.ConvertTime(order.PromisedAt, settings.Zone),
            order.Proof,
            order.PrintedAt is null && order.CancelledAt is null && order.Proof == ProofState.Waiting,
            order.CancelledAt is not null,
            PrintRules.Of(settings.Profile),
            [.. order.Lines.OrderBy(l => l.Number).Select(Line)],
            order.Questions,
            await PapersOf(context, order.Id)
                .OrderBy(d => d.At)
                .Select(d => new StatusPaper(d.Id, d.Kind, d.Number, d.Day))
                .ToListAsync(cancel)
        )
        {
            Stamp = ProofStamp.Of(order),
            Stands = stands,
            Seasons = isWaited ? SeasonSaid.Booked(settings, time.GetUtcNow(), order.BookedAt, order.PromisedAt) : [],
        };
    }

    /// <summary>The file of a paper of the link's order; null when there is none.</summary>
    public async Task<(string Name, byte[] Bytes)?> PaperAsync(string token, Guid paper, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await FindLivingAsync(context, token, time.GetUtcNow(), cancel) is not { } order)
            return null;
        var found = await PapersOf(context, order.Id)
            .Where(d => d.Id == paper)
            .Select(d => new { d.Number, d.Pdf })
            .FirstOrDefaultAsync(cancel);
        return found is null ? null : ($"{found.Number}.pdf", found.Pdf);
    }

    // Reminders are letters of their own; they are sent, not shown.
    private static IQueryable<IssuedDocument> PapersOf(ShopContext context, OrderId order) =>
        context.Documents.AsNoTracking().Where(d => d.Order == order && d.Kind != Reminders.Kind);

    /// <summary>How the customer's pieces of an order stand.</summary>
    internal static async Task<IReadOnlyList<PieceStand>> StandsAsync(ShopContext context, OrderId order, CancellationToken cancel)
    {
        var pieces = await context.Pieces.Where(p => !p.IsTest && p.Order == order).Standing(context).ToListAsync(cancel);
        return [.. pieces.Select(p => p.Stand)];
    }

    /// <summary>The order of a secret link; null for a link that is none or no more. Reading and answering ask here alike.</summary>
    internal static async Task<Order?> FindLivingAsync(ShopContext context, string token, DateTimeOffset now, CancellationToken cancel)
    {
        if (token.Length is < 20 or > 100)
            return null;
        var hash = StatusToken.HashOf(token);
        return
            await context.Orders.FirstOrDefaultAsync(o => o.StatusLinkHash == hash, cancel) is { } order
            && await IsLivingAsync(context, order.Id, now, cancel)
            ? order
            : null;
    }

    /// <summary>False once the last piece went out so long ago that the customer's page is no more: the owner says how many days that are.</summary>
    internal static async Task<bool> IsLivingAsync(ShopContext context, OrderId order, DateTimeOffset now, CancellationToken cancel)
    {
        var pieces = await context
            .Pieces.Where(p => !p.IsTest && p.Order == order)
            .Select(p => new { p.State, p.ChangedAt })
            .ToListAsync(cancel);
        var isOver =
            pieces.Count > 0 && pieces.TrueForAll(p => p.State is PieceState.HandedOver or PieceState.Returned or PieceState.Spoiled);
        if (!isOver)
            return true;
        var days = (await CurrentSettings.LoadAsync(context, now, cancel)).Keeping.LinkDays;
        return pieces.Max(p => p.ChangedAt).AddDays(days) >= now;
    }
}
