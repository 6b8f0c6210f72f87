using ShopFloor.Domain;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Api;

/// <summary>One thing that is wrong with what was sent.</summary>
/// <param name="Code">Stable name.</param>
/// <param name="Detail">A sentence for people.</param>
/// <param name="Field">Where, or null.</param>
public sealed record ProblemItem(string Code, string Detail, string? Field);

/// <summary>Refusals as problem details (RFC 9457).</summary>
public static class Problems
{
    private static readonly string[] Conflicts =
    [
        "day-moved",
        "price-moved",
        "command-reused",
        "changed-meanwhile",
        "external-id-taken",
        "no-date",
        "rush-pushes",
        "printed",
        "order-off",
    ];

    public static IResult NoKey => One(401, "no-key", "Send a key that is in force: Authorization: Bearer KEY.");
    public static IResult NoScope => One(403, "no-scope", "This key may not do that. The owner sets what a key may do when it is made.");
    public static IResult NotHere => One(404, "not-found", "There is nothing at this address.");
    public static IResult NoJson => One(415, "body-type", "Send JSON: Content-Type application/json.");
    public static IResult TooMany => One(429, "too-many-calls", "This key has called too often. Wait a minute.");

    public static IResult TooManyWrong =>
        One(
            429,
            "too-many-wrong-keys",
            "Too many wrong keys came from this address. Wait as Retry-After says, then send a key that is in force."
        );

    /// <summary>A problem with one reason.</summary>
    public static IResult One(int status, string code, string detail, string? field = null) =>
        Of(status, [new Refusal(code, detail, field)]);

    /// <summary>Refusals of a use case: 409 when the state of things is against it, 503 when nothing can be written just now, else 422.</summary>
    public static IResult Of(IReadOnlyList<Refusal> refusals) =>
        Of(
            refusals.Any(r => Conflicts.Contains(r.Code, StringComparer.Ordinal)) ? 409
                : refusals.Any(r => r.Code == "no-right") ? 403
                : CannotWrite.Is(refusals) ? 503
                : 422,
            refusals
        );

    private static IResult Of(int status, IReadOnlyList<Refusal> refusals) =>
        Results.Problem(
            title: refusals[0].Code,
            detail: refusals[0].Text,
            statusCode: status,
            extensions: new Dictionary<string, object?>(StringComparer.Ordinal)
            {
                ["errors"] = refusals.Select(r => new ProblemItem(r.Code, r.Text, r.Field)).ToList(),
            }
        );
}
