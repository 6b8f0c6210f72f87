using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Counter.Offers;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Duties;

/// <summary>What is over its time at an instant, as questions to the database: the same ones when it is looked for and when it is taken away.</summary>
internal sealed class KeepingRules
{
    private readonly ShopContext context;
    private readonly DateTimeOffset now;
    private readonly CurrentSettings settings;

    private KeepingRules(ShopContext context, CurrentSettings settings, DateTimeOffset now) =>
        (this.context, this.settings, this.now) = (context, settings, now);

    /// <summary>With the times that hold now.</summary>
    public static async Task<KeepingRules> LoadAsync(ShopContext context, DateTimeOffset now, CancellationToken cancel) =>
        new(context, await CurrentSettings.LoadAsync(context, now, cancel), now);

    public IQueryable<Draft> Drafts
    {
        get
        {
            var before = Days(settings.Keeping.DraftDays);
            // What was offered in writing is there as long as it holds, and may be asked for on its last day.
            var offered = Days(Math.Max(settings.Keeping.DraftDays, settings.Profile.OfferDays + 1));
            return context.Drafts.Where(d =>
                d.ChangedAt < offered
                || (d.ChangedAt < before && (d.BecameOrder != null || d.WipedAt != null || !d.Json.Contains(KeptOffer.Mark)))
            );
        }
    }

    public IQueryable<Order> Pictured => Over(settings.Keeping.PictureDays, o => o.Lines.Any(l => l.Picture != null));

    public IQueryable<Order> Linked => Over(settings.Keeping.LinkDays, o => o.StatusLinkHash != "");

    public IQueryable<OutboxMessage> Messages
    {
        get
        {
            var before = Days(settings.Keeping.MessageDays);
            return context.Outbox.Where(m => m.SentAt != null && m.SentAt < before && m.Json != "");
        }
    }

    public IQueryable<CommandRecord> Commands
    {
        get
        {
            var before = Days(settings.Keeping.CommandDays);
            return context.Commands.Where(c => c.At < before);
        }
    }

    public IQueryable<Erasure> Documented
    {
        get
        {
            var today = settings.Day(now);
            return context.Erasures.Where(e => e.DocumentsGoneAt == null && e.DocumentsUntil != null && e.DocumentsUntil < today);
        }
    }

    /// <summary>Pictures that go when nothing names them.</summary>
    public IQueryable<KeptPicture> Pictures
    {
        get
        {
            var before = Days(settings.Keeping.DraftDays);
            return context.Pictures.Where(p => p.At < before);
        }
    }

    private DateTimeOffset Days(int days) => now.AddDays(-days);

    /// <summary>Orders where nothing is open any more and nothing has happened since.</summary>
    private IQueryable<Order> Over(int days, Expression<Func<Order, bool>> wanted)
    {
        PieceState[] ended = [PieceState.HandedOver, PieceState.Spoiled, PieceState.Returned];
        var before = Days(days);
        return context
            .Orders.Where(o => o.BookedAt < before)
            .Where(wanted)
            .Where(o =>
                !context.Pieces.Any(p =>
                    p.Order == o.Id
                    && (!(ended.Contains(p.State) || (p.IsTest && p.State == PieceState.CheckedGood)) || p.ChangedAt >= before)
                )
            );
    }
}
