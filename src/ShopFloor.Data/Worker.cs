using Microsoft.AspNetCore.Identity;
using ShopFloor.Domain;

namespace ShopFloor.Data;

/// <summary>Somebody who signs in: a person, or a device such as the Counter's tablet.</summary>
public sealed class Worker : IdentityUser<Guid>
{
    /// <summary>Name on screens and in journals.</summary>
    public string DisplayName { get; set; } = "";

    /// <summary>The person in the plan, when it is one.</summary>
    public PersonId? Person { get; set; }

    /// <summary>False: no sign-in, and running ones end.</summary>
    public bool IsActive { get; set; } = true;
}

/// <summary>A right to a part of the program: owner, bench, counter.</summary>
public sealed class WorkerRole : IdentityRole<Guid>
{
    /// <summary>The owner: everything.</summary>
    public const string Owner = "owner";

    /// <summary>Who works on pieces: Bench and Wall.</summary>
    public const string Bench = "bench";

    /// <summary>The Counter and nothing else.</summary>
    public const string Counter = "counter";

    /// <summary>All three.</summary>
    public static IReadOnlyList<string> All { get; } = [Owner, Bench, Counter];
}
