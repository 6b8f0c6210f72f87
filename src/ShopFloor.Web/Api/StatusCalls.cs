using System.Text.Json;
using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Api;

/// <summary>The published plan in the API.</summary>
/// <param name="Version">Its number.</param>
/// <param name="Zero">The instant from which its seconds count.</param>
/// <param name="PublishedAt">When.</param>
/// <param name="Plan">The plan in the form of docs/schema/plan.schema.json.</param>
public sealed record PlanOut(int Version, DateTimeOffset Zero, DateTimeOffset PublishedAt, JsonElement Plan);

/// <summary>Status out, plan out.</summary>
public static class StatusCalls
{
    public static void MapStatusOut(this IEndpointRouteBuilder api)
    {
        api.MapGet("/orders", ManyAsync)
            .AddEndpointFilter(UnreadAsync)
            .Produces<OrdersOut>()
            .ProducesProblem(400)
            .WithName("orders")
            .WithSummary("Orders by number: after the one given, or only those where something happened since an instant.")
            .RequireAuthorization(ApiScopes.Policy(ApiScopes.StatusOut));
        api.MapGet("/orders/{number:int}", OneAsync)
            .Produces<OrderOut>()
            .ProducesProblem(404)
            .WithName("order")
            .WithSummary("One order with its pieces. Has an ETag; If-None-Match answers 304 while nothing changed.")
            .RequireAuthorization(ApiScopes.Policy(ApiScopes.StatusOut));
        api.MapGet("/plan", PlanAsync)
            .Produces<PlanOut>()
            .ProducesProblem(404)
            .WithName("plan")
            .WithSummary("The latest published plan. Has an ETag.")
            .RequireAuthorization(ApiScopes.Policy(ApiScopes.PlanOut));
    }

    // Values that are no numbers never reach the call: the frame would answer with a bare 400.
    private static async ValueTask<object?> UnreadAsync(EndpointFilterInvocationContext call, EndpointFilterDelegate next)
    {
        var query = call.HttpContext.Request.Query;
        foreach (var name in new[] { "after", "limit" })
            if (query[name].FirstOrDefault() is { } text && !int.TryParse(text, CultureInfo.InvariantCulture, out _))
                return Problems.One(400, name, "A whole number, for example 50.", name);
        return
            query["changedSince"].FirstOrDefault() is { } since
            && !DateTimeOffset.TryParse(since, CultureInfo.InvariantCulture, DateTimeStyles.None, out _)
            ? Problems.One(400, "changedSince", "An instant by ISO 8601, for example 2026-03-04T10:00:00Z.", "changedSince")
            : await next(call);
    }

    private static async Task<IResult> ManyAsync(
        OrderStatusView view,
        CancellationToken cancel,
        int after = 0,
        int limit = 50,
        DateTimeOffset? changedSince = null
    ) =>
        limit is < 1 or > OrderStatusView.Most
            ? Problems.One(400, "limit", $"From 1 to {OrderStatusView.Most}.", "limit")
            : Results.Json(await view.ManyAsync(after, limit, changedSince?.ToUniversalTime(), cancel), ApiBody.Form);

    private static async Task<IResult> OneAsync(int number, HttpContext http, OrderStatusView view) =>
        await view.OneAsync(number, http.RequestAborted) is { } found ? ApiBody.Tagged(http, found.Tag, found.Order) : Problems.NotHere;

    private static async Task<IResult> PlanAsync(HttpContext http, PlanVersionView view)
    {
        if (await view.LatestAsync(http.RequestAborted) is not { } plan)
            return Problems.NotHere;
        return ApiBody.Tagged(http, string.Create(CultureInfo.InvariantCulture, $"plan-{plan.Version}"), plan);
    }
}
