using ShopFloor.Data;
using ShopFloor.Web.Office.Settings;

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

    /// <summary>What somebody else changed before this could be saved.</summary>
    public IReadOnlyList<ChangedField> Meanwhile { get; private init; } = [];

    /// <summary>This form on the sign-in as somebody else left it: what was entered stays, the rest follows.</summary>
    public SignInForm Follow(SignInRow now)
    {
        var (before, form, meanwhile) = (new SignInForm(row), new SignInForm(now), new Meanwhile());
        return new SignInForm(now)
        {
            Meanwhile = meanwhile.Fields,
            Display = meanwhile.Take("Name on screens and in lists", Display, before.Display, form.Display),
            Person = meanwhile.Take("Person in the plan", Person, before.Person, form.Person),
            Password = Password,
            Role = meanwhile.Take("May", Role, before.Role, form.Role, Word),
            IsActive = meanwhile.Take("May sign in", IsActive, before.IsActive, form.IsActive, may => may ? "yes" : "no"),
        };
    }

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
