using System.Security.Cryptography;
using System.Text;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

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

/// <summary>What an order would cost and when it would be ready.</summary>
public sealed record QuoteOut(
    IReadOnlyList<LineQuoteOut> Lines,
    decimal? Net,
    decimal? Gross,
    decimal TaxPercent,
    string Currency,
    DateTimeOffset? PromisedAt,
    decimal Deposit
);

/// <summary>What booking answers. The status token is the secret of the customer's own page and is told this once.</summary>
public sealed record BookedOut(int Order, string ExternalId, DateTimeOffset PromisedAt, IReadOnlyList<string> Pieces, string StatusToken);

/// <summary>Orders in: a price first, then the booking at that price, by the rules of the Counter.</summary>
public static class OrderCalls
{
    public static void MapOrdersIn(this IEndpointRouteBuilder api)
    {
        api.MapPost("/quotes", QuoteAsync)
            .Accepts<OrderIn>("application/json")
            .Produces<QuoteOut>()
            .ProducesProblem(400)
            .WithName("quote")
            .WithSummary("What an order would cost and when it would be ready. Changes nothing.")
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
            .RequireAuthorization(ApiScopes.Policy(ApiScopes.OrdersIn));
    }

    private static async Task<IResult> QuoteAsync(HttpContext http, QuoteOrder quote)
    {
        var read = await ApiBody.ReadAsync<OrderIn>(http);
        if (!read.IsOk)
            return ApiBody.Refused(read);
        var input = read.Value.ToInput();
        if (!input.IsOk)
            return Problems.Of(input.Refusals);
        var quoted = await quote.RunAsync(input.Value, http.RequestAborted);
        return Results.Json(
            new QuoteOut(
                [.. quoted.Lines.Select(Line)],
                quoted.Net,
                quoted.Gross,
                quoted.TaxPercent,
                quoted.Currency,
                quoted.PromisedAt,
                quoted.Deposit
            ),
            ApiBody.Form
        );
    }

    private static async Task<IResult> BookAsync(HttpContext http, BookOrder book)
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
        var booked = await book.RunAsync(Asked.ByKey(caller, command), input.Value, http.RequestAborted);
        if (!booked.IsOk)
            return Problems.Of(booked.Refusals);
        var order = booked.Value;
        http.Response.Headers.Location = string.Create(
            CultureInfo.InvariantCulture,
            $"{http.Request.PathBase}/api/v1/orders/{order.Number}"
        );
        return Results.Json(
            new BookedOut(order.Number, input.Value.ExternalId, order.PromisedAt, order.Codes, order.StatusToken),
            ApiBody.Form,
            statusCode: StatusCodes.Status201Created
        );
    }

    /// <summary>The command's id made from the caller and its own word for the call: sent twice, it is one command.</summary>
    private static Guid CommandOf(Guid caller, string key) =>
        new(SHA256.HashData(Encoding.UTF8.GetBytes($"{caller:N}/{key}"))[..16], bigEndian: true);

    private static LineQuoteOut Line(LineQuote line) =>
        new(
            line.Verdict.ToString(),
            line.VerdictText,
            line.Reasons,
            line.Price?.UnitPrice.Amount,
            line.Price?.LineTotal.Amount,
            line.Price?.Hash,
            [.. line.Faults.Select(f => new ProblemItem(f.Code, f.Text, f.Field))]
        );
}
