using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>
/// Makes an order with numbered pieces out of what was entered; each piece gets its own copy of the recipe's steps. The promise is computed
/// before the write gate, where nobody waits for it; within the gate it only holds when nothing has happened since.
/// </summary>
public sealed class BookOrder(
    IDbContextFactory<ShopContext> contexts,
    CommandRunner runner,
    PromiseDay promises,
    JudgedLines lines,
    SecretBox secrets
) : IUseCase
{
    /// <summary>Version of the wordings that customers accept; a changed text is a new version.</summary>
    public const string WordingVersion = "2026-11b";

    /// <summary>So often a promise that was overtaken by another order is computed outside the gate; then within it.</summary>
    private const int MostTries = 2;

    /// <summary>Books. Refuses when anything is wrong or a price is not the one that was shown.</summary>
    public async Task<Result<BookedOrder>> RunAsync(Asked asked, OrderInput order, CancellationToken cancel = default)
    {
        for (var tries = 1; ; tries++)
        {
            await PrepareAsync(order, cancel);
            var (decided, overtaken) = (false, false);
            var booked = await runner.RunAsync<OrderInput, BookedOrder>(
                nameof(BookOrder),
                Allowed.Counter,
                asked,
                order,
                async work =>
                {
                    var found = await DecideAsync(work, order, mayGoBack: tries < MostTries, cancel);
                    (decided, overtaken) = (found is { IsOk: true }, found is null);
                    return (found ?? Overtaken).Then(o => Result<BookedOrder>.Ok(o.Closed(secrets)));
                },
                cancel
            );
            // What was kept for it is free again when it could not be saved.
            if (decided && !booked.IsOk)
                promises.Forget();
            if (!overtaken)
                return booked.Then(o => Result<BookedOrder>.Ok(o.Opened(secrets)));
        }
    }

    /// <summary>Never shown: the booking begins once more.</summary>
    private static readonly Refusal Overtaken = new("overtaken", "Something happened in between.");

    /// <summary>Computes what the gate will ask for, which finds it remembered unless something happens in between.</summary>
    private async Task PrepareAsync(OrderInput order, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var judged = await JudgeAsync(context, order, runner.Now, cancel);
        if (judged.IsPriced)
            await promises.ForAsync(judged.Asked, cancel);
    }

    private async Task<JudgedOrder> JudgeAsync(ShopContext context, OrderInput order, DateTimeOffset at, CancellationToken cancel) =>
        await JudgedOrder.OfAsync(context, order, (await ShopFacts.LoadAsync(context, at, cancel), lines), cancel);

    /// <summary>The booking or its refusal; null when it was overtaken and <paramref name="mayGoBack"/> says to prepare it anew.</summary>
    private async Task<Result<BookedOrder>?> DecideAsync(CommandWork work, OrderInput entered, bool mayGoBack, CancellationToken cancel)
    {
        var judged = await JudgeAsync(work.Context, entered, work.Now, cancel);
        var customer = await CustomerAsync(work, judged.Order, cancel);
        if (await FaultsAsync(work, judged, customer, cancel) is { Count: > 0 } faults)
            return Result<BookedOrder>.Refused(faults);
        if (PriceMoved(judged) is { } moved)
            return moved;
        var promise = await promises.NowAsync(work.Context, judged.Asked, cancel);
        if (promise is null && mayGoBack)
            return null;
        promise ??= await promises.ForAsync(judged.Asked, cancel);
        if (promise.At is not { } ready)
            return Result<BookedOrder>.Refused(promise.NoDate(NoDate, "wanted", lineByLine: true));
        if (judged.Shop.Settings.Day(ready) > entered.ShownDay)
            return DayMoved;
        if (promise.Pushes.Count > 0 && !await DraftAccess.IsClerkAsync(work.Context, work.By, cancel))
            return RushPushes;
        var booked = await WriteAsync(work, judged.Order, customer.Value, (judged.Shop, judged.Lines, ready), cancel);
        if (booked.IsOk)
            promises.Keep(promise, judged.Asked, booked.Value);
        return booked;
    }

    private const string NoDate = "The workshop cannot make this within the days it plans ahead. Ask the owner.";

    /// <summary>Who was shown a day is not booked for a later one unasked; an earlier one is no loss.</summary>
    private static readonly Refusal DayMoved = new(
        "day-moved",
        "The day has moved since it was shown. Please look at the new day, then book.",
        "day"
    );

    /// <summary>A promise already given is only broken by people of the workshop, who speak with those who wait.</summary>
    private static readonly Refusal RushPushes = new(
        "rush-pushes",
        "Done first, it would make other orders late. Only the workshop's people can book that.",
        "rush"
    );

    private static async Task<IReadOnlyList<Refusal>> FaultsAsync(
        CommandWork work,
        JudgedOrder judged,
        Result<Customer> customer,
        CancellationToken cancel
    )
    {
        var faults = LineFaults.Of(judged.Order, judged.Shop.Settings.Day(work.Now)).ToList();
        faults.AddRange(judged.Lines.SelectMany((j, i) => j.Quote.Faults.Select(f => f with { Field = $"lines.{i}.{f.Field}" })));
        faults.AddRange(await GonePicturesAsync(work.Context, judged.Order, cancel));
        if (await IsTakenAsync(work, judged.Order, cancel))
            faults.Add(new Refusal("external-id-taken", $"There is an order “{judged.Order.ExternalId}” already.", "externalId"));
        return faults.Count == 0 ? customer.Refusals : faults;
    }

    /// <summary>A picture may be over its time since the entry was begun.</summary>
    private static async Task<IEnumerable<Refusal>> GonePicturesAsync(ShopContext context, OrderInput order, CancellationToken cancel)
    {
        var named = order.Lines.Select(l => l.Picture).OfType<PictureId>().ToList();
        var kept = named.Count == 0 ? [] : await context.Pictures.Where(p => named.Contains(p.Id)).Select(p => p.Id).ToListAsync(cancel);
        return order
            .Lines.Select((line, i) => (line.Picture, i))
            .Where(l => l.Picture is { } picture && !kept.Contains(picture))
            .Select(l => new Refusal("picture-gone", "The picture is no longer kept. Please add it again.", $"lines.{l.i}.picture"));
    }

    private static Refusal? PriceMoved(JudgedOrder judged)
    {
        var shown = judged.Order.ShownPriceHashes;
        return shown.Count == judged.Lines.Count && shown.Zip(judged.Lines).All(p => p.First == p.Second.Quote.Price!.Hash)
            ? null
            : new Refusal("price-moved", "The price has changed since it was shown. Please look at the new price, then book.", "price");
    }

    private static async Task<Result<Customer>> CustomerAsync(CommandWork work, OrderInput order, CancellationToken cancel)
    {
        if (order.Customer is { } known)
        {
            var found = await work.Context.Customers.FirstOrDefaultAsync(c => c.Id == known && c.ErasedAt == null, cancel);
            return found is null
                ? new Refusal("customer-missing", "This customer is no longer kept. Enter the name again.", "customer")
                : found;
        }
        return Customer.Create(
            new CustomerId(Guid.CreateVersion7()),
            order.Contact,
            work.Now,
            order.ContactAgreed ? work.Now : null,
            order.CustomerExternalId
        );
    }

    private static async Task<bool> IsTakenAsync(CommandWork work, OrderInput order, CancellationToken cancel) =>
        order.ExternalId.Length > 0 && await work.Context.Orders.AnyAsync(o => o.ExternalId == order.ExternalId, cancel);

    /// <summary>Writes an order that was judged and promised; the import of orders does so too.</summary>
    internal static async Task<Result<BookedOrder>> WriteAsync(
        CommandWork work,
        OrderInput input,
        Customer customer,
        (ShopFacts Shop, IReadOnlyList<JudgedLine> Judged, DateTimeOffset Promise) facts,
        CancellationToken cancel
    )
    {
        var token = StatusToken.Make();
        // For this order a known customer may be reached in another way; what is kept of the customer stays.
        var contact = input.Contact.Over(customer.Contact);
        var order = new Order(
            new OrderId(Guid.CreateVersion7()),
            (int)await work.NextNumberAsync("order", cancel),
            customer.Id,
            contact,
            facts.Shop.Settings.Profile.Currency,
            work.Now,
            work.By
        )
        {
            ExternalId = input.ExternalId,
            Wanted = input.Wanted,
            IsRush = input.IsRush,
            IsGift = input.IsGift,
            Agreements = Agreements(work, input, customer.ConsentAt),
            StatusLinkHash = StatusToken.HashOf(token),
            DepositAsked = facts.Judged.Sum(j => j.Quote.Price!.Deposit.Amount),
        };
        order.Promise(facts.Promise);
        if (input.Note.Length > 0)
            order.Write(input.Note);
        var codes = await PiecesAsync(work, input, order, facts.Shop, facts.Judged, cancel);
        order.AskForProofOfOwn();
        await SecondSide.AskAsync(work, order, input, cancel);
        if (input.Customer is null)
            work.Context.Customers.Add(customer);
        work.Context.Orders.Add(order);
        if (input.Draft is { } draftId && await work.Context.Drafts.FindAsync([draftId], cancel) is { } draft)
        {
            var became = draft.Become(order.Id, work.Now);
            if (!became.IsOk)
                return Result<BookedOrder>.Refused(became.Refusals);
            work.Touch(Topic.Draft, draft.Id);
        }
        work.Touch(Topic.Order, order.Id.Value);
        return new BookedOrder(order.Id, order.Number, token, codes, facts.Promise);
    }

    private static async Task<IReadOnlyList<string>> PiecesAsync(
        CommandWork work,
        OrderInput input,
        Order order,
        ShopFacts shop,
        IReadOnlyList<JudgedLine> judged,
        CancellationToken cancel
    )
    {
        var codes = new List<string>();
        for (var i = 0; i < input.Lines.Count; i++)
        {
            var (entered, fitted) = (input.Lines[i], judged[i]);
            var line = new OrderLine(new OrderLineId(Guid.CreateVersion7()), i + 1, entered.Quantity, entered.Piece, entered.Finish)
            {
                Recipe = fitted.Recipe!.Id,
                Picture = entered.Picture,
                Placement = entered.Placement,
                Texts = entered.Texts,
                Verdict = VerdictWords.Of(fitted.Quote.Verdict),
                Price = AgreeOn.Price(fitted.Quote.Price!, entered.Piece.IsOwn, shop),
            };
            order.Add(line);
            var pieces = new PiecesToBook([.. Enumerable.Range(1, entered.Quantity)], fitted.Steps) { Photos = entered.Photos };
            codes.AddRange(await BookPieces.AddAsync(work, order.Id, line, pieces, cancel));
        }
        return codes;
    }

    /// <summary>What was said yes to now; that a known customer's contact data is kept was agreed when it was first entered.</summary>
    private static List<Agreement> Agreements(CommandWork work, OrderInput input, DateTimeOffset? contactAgreed)
    {
        var agreed = new List<Agreement>();
        void Add(bool said, string what, DateTimeOffset? at = null)
        {
            if (said)
                agreed.Add(new Agreement(what, WordingVersion, input.Language, at ?? work.Now, work.By));
        }
        Add(true, "order");
        Add(input.RiskAccepted, "risk");
        Add(input.RightsAccepted, "picture rights");
        foreach (var line in input.CoarseTold)
            Add(true, Agreement.CoarseTold(line));
        Add(input.ContactAgreed || contactAgreed is not null, "contact data", contactAgreed);
        return agreed;
    }
}
