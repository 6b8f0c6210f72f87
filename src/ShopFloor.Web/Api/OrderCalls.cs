using System.Security.Cryptography;
using System.Text;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Seasons;

namespace ShopFloor.Web.Api;

/// <summary>A line of a quote.</summary>
public sealed record LineQuoteOut(
    string Verdict,
    string Words,
    IReadOnlyList<string> Reasons,
    decimal? UnitPrice,
    decimal? Price,
    string? PriceHash,
    IReadOnlyList<ProblemItem> Errors
);

/// <summary>What an order would cost and when it would be ready. Without prices and date it cannot be booked, and the lines say why; what is wrong with the order as a whole is said beside them.</summary>
public sealed record QuoteOut(
    bool CanBook,
    IReadOnlyList<LineQuoteOut> Lines,
    decimal? Net,
    decimal? Gross,
    decimal TaxPercent,
    string Currency,
    DateTimeOffset? PromisedAt,
    decimal Deposit,
    IReadOnlyList<ProblemItem> Errors,
    IReadOnlyList<SeasonOut> Seasons
);

/// <summary>What is said of a season that is near: until when orders for it are taken, by when they are handed over, and whether this one is in time.</summary>
public sealed record SeasonOut(string Name, DateOnly LastOrderDay, DateOnly HandOverBy, SeasonWord Word, string Words)
{
    /// <summary>As other programs read it, in English.</summary>
    internal static SeasonOut Of(SeasonSaid said) =>
        new(
            said.Season.Name,
            said.Season.LastDay,
            said.Season.HandOverBy,
            said.Word,
            said.OnPaper(LetterReader.English.Say, LetterReader.English.Day, LetterReader.English.Language)
        );
}

/// <summary>What booking answers. The status token is the secret of the customer's own page and is told this once.</summary>
public sealed record BookedOut(
    int Order,
    string ExternalId,
    DateTimeOffset PromisedAt,
    IReadOnlyList<string> Pieces,
    string StatusToken,
    IReadOnlyList<SeasonOut> Seasons
);

/// <summary>Orders in: a price first, then the booking at that price, by the rules of the Counter.</summary>
public static class OrderCalls
{
    private const string NoDate = "no-date";

    public static void MapOrdersIn(this IEndpointRouteBuilder api)
    {
        api.MapPost("/quotes", QuoteAsync)
            .Accepts<OrderIn>("application/json")
            .Produces<QuoteOut>()
            .ProducesProblem(400)
            .WithName("quote")
            .WithSummary("What an order would cost and when it would be ready. Changes nothing.")
            .WithDescription(
                "canBook is true when every line has a price, there is a date, and the day wanted is not over. A line that nobody in the workshop can make within the days "
                    + "it plans ahead has the verdict Refuse, no price, and an error no-date with the reason."
            )
            .RequireAuthorization(ApiScopes.Policy(ApiScopes.OrdersIn));
        api.MapPost("/orders", BookAsync)
            .Accepts<OrderIn>("application/json")
            .Produces<BookedOut>(201)
            .ProducesProblem(400)
            .ProducesProblem(409)
            .ProducesProblem(422)
            .WithName("book")
            .WithSummary(
                "Books an order at the prices that a quote gave. Needs the header Idempotency-Key; the same key and content books once."
            )
            .WithDescription(
                "Answers 409 with the code no-date, and a further error for each line with the reason, when nobody in the workshop can make it "
                    + "within the days it plans ahead."
            )
            .RequireAuthorization(ApiScopes.Policy(ApiScopes.OrdersIn));
    }

    private static async Task<IResult> QuoteAsync(HttpContext http, QuoteOrder quote, SeasonsView seasons)
    {
        var read = await ApiBody.ReadAsync<OrderIn>(http);
        if (!read.IsOk)
            return ApiBody.Refused(read);
        var input = read.Value.ToInput();
        if (!input.IsOk)
            return Problems.Of(input.Refusals);
        var quoted = await quote.RunAsync(input.Value, http.RequestAborted);
        var hasDate = quoted.PromisedAt is not null;
        return Results.Json(
            new QuoteOut(
                hasDate && quoted.Faults.Count == 0,
                [.. quoted.Lines.Select((l, i) => Line(l, quoted.LeftOut.GetValueOrDefault(i)?.Text))],
                hasDate ? quoted.Net : null,
                hasDate ? quoted.Gross : null,
                quoted.TaxPercent,
                quoted.Currency,
                quoted.PromisedAt,
                hasDate ? quoted.Deposit : 0m,
                [.. quoted.Faults.Select(f => new ProblemItem(f.Code, f.Text, f.Field))],
                [.. (await seasons.OfferedAsync(quoted.PromisedAt, http.RequestAborted)).Select(SeasonOut.Of)]
            ),
            ApiBody.Form
        );
    }

    private static async Task<IResult> BookAsync(HttpContext http, BookOrder book, SeasonsView seasons)
    {
        var key = http.Request.Headers["Idempotency-Key"].ToString().Trim();
        if (key.Length is 0 or > 200)
            return Problems.One(400, "idempotency-key", "Send a header Idempotency-Key of 1 to 200 characters, another for each order.");
        var read = await ApiBody.ReadAsync<OrderIn>(http);
        if (!read.IsOk)
            return ApiBody.Refused(read);
        var caller = ApiScopes.KeyOf(http.User);
        var command = CommandOf(caller, key);
        var input = read.Value.ToInput();
        if (!input.IsOk)
            return Problems.Of(input.Refusals);
        if (Unseen(read.Value) is { Count: > 0 } unseen)
            return Problems.Of(unseen);
        var booked = await book.RunAsync(Asked.ByKey(caller, command), input.Value, http.RequestAborted);
        if (!booked.IsOk)
            return Problems.Of(booked.Refusals);
        var order = booked.Value;
        http.Response.Headers.Location = string.Create(
            CultureInfo.InvariantCulture,
            $"{http.Request.PathBase}/api/v1/orders/{order.Number}"
        );
        return Results.Json(
            new BookedOut(
                order.Number,
                input.Value.ExternalId,
                order.PromisedAt,
                order.Codes,
                order.StatusToken,
                [.. (await seasons.BookedAsync(order.Number, http.RequestAborted)).Select(SeasonOut.Of)]
            ),
            ApiBody.Form,
            statusCode: StatusCodes.Status201Created
        );
    }

    /// <summary>Lines whose price the caller has not seen: nobody can agree to those.</summary>
    private static IReadOnlyList<Refusal> Unseen(OrderIn order) =>
        [
            .. order
                .Lines.Index()
                .Where(l => string.IsNullOrEmpty(l.Item.PriceHash))
                .Select(l => new Refusal(
                    "price-unseen",
                    "Ask for a quote first and send the priceHash of each of its lines: an order is booked at the price that was seen.",
                    string.Create(CultureInfo.InvariantCulture, $"lines.{l.Index}.priceHash")
                )),
        ];

    /// <summary>The command's id made from the caller and its own word for the call: sent twice, it is one command.</summary>
    private static Guid CommandOf(Guid caller, string key) =>
        new(SHA256.HashData(Encoding.UTF8.GetBytes($"{caller:N}/{key}"))[..16], bigEndian: true);

    private static LineQuoteOut Line(LineQuote line, string? leftOut) =>
        leftOut is null
            ? new(
                (line.Faults.Count > 0 ? Verdict.Refuse : line.Verdict).ToString(),
                line.VerdictText,
                line.Reasons,
                line.Price?.UnitPrice.Amount,
                line.Price?.LineTotal.Amount,
                line.Price?.Hash,
                [.. line.Faults.Select(f => new ProblemItem(f.Code, f.Text, f.Field))]
            )
            : new(
                nameof(Verdict.Refuse),
                "Nobody in the workshop can make this within the days it plans ahead.",
                [leftOut, .. line.Reasons],
                null,
                null,
                null,
                [new ProblemItem(NoDate, leftOut, null)]
            );
}
