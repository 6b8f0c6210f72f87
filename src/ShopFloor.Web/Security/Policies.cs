using Microsoft.AspNetCore.Authorization;
using ShopFloor.Data;

namespace ShopFloor.Web.Security;

/// <summary>Who may enter which place. Every page names one of these, or says that it is for everyone.</summary>
public static class Policies
{
    /// <summary>Intake: everyone who signs in. For a counter session it is the only place there is.</summary>
    public const string Counter = "place-counter";

    /// <summary>Work on pieces: owner and bench.</summary>
    public const string Bench = "place-bench";

    /// <summary>The big screen: owner and bench.</summary>
    public const string Wall = "place-wall";

    /// <summary>Prices, people, money: the owner.</summary>
    public const string Office = "place-office";

    /// <summary>Which roles each policy lets in; the table that the fence test goes through.</summary>
    public static IReadOnlyDictionary<string, IReadOnlyList<string>> Roles { get; } =
        new Dictionary<string, IReadOnlyList<string>>(StringComparer.Ordinal)
        {
            [Counter] = [WorkerRole.Owner, WorkerRole.Bench, WorkerRole.Counter],
            [Bench] = [WorkerRole.Owner, WorkerRole.Bench],
            [Wall] = [WorkerRole.Owner, WorkerRole.Bench],
            [Office] = [WorkerRole.Owner],
        };

    public static void Add(AuthorizationOptions options)
    {
        foreach (var (policy, roles) in Roles)
            options.AddPolicy(policy, p => p.RequireAuthenticatedUser().RequireRole(roles));
        // Whatever forgot to say whom it is for is for nobody who has not signed in.
        options.FallbackPolicy = new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build();
    }
}
