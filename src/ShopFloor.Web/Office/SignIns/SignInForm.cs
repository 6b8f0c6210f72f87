using ShopFloor.Data;

namespace ShopFloor.Web.Office.SignIns;

/// <summary>What is typed into the page of a sign-in.</summary>
/// <param name="row">As saved; null: a new one.</param>
public sealed class SignInForm(SignInRow? row)
{
    public string? Name { get; set; } = row?.Name;
    public string? Display { get; set; } = row?.Facts.Display;
    public string Role { get; set; } = row?.Facts.Role ?? WorkerRole.Bench;
    public string Person { get; set; } = row?.Facts.Person ?? "";
    public bool IsActive { get; set; } = row?.Facts.IsActive ?? true;
    public string? Password { get; set; }

    /// <summary>As typed; where no name for screens is given, it is the one of the sign-in.</summary>
    public SignInFacts Read() => new(string.IsNullOrWhiteSpace(Display) ? Name ?? "" : Display, Role, Person, IsActive);

    /// <summary>What a role may do.</summary>
    public static string Word(string role) =>
        role switch
        {
            WorkerRole.Owner => "Everything (owner)",
            WorkerRole.Bench => "Bench, Wall and Counter",
            WorkerRole.Counter => "The Counter and nothing else",
            _ => "Nothing",
        };
}
