using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.People;

/// <summary>A person as the owner entered it.</summary>
/// <param name="Code">Short name in plans, small letters and digits, 1 to 20.</param>
/// <param name="SeenVersion">The version the page showed; null: somebody new.</param>
/// <param name="Name">What people call them.</param>
/// <param name="Can">Kinds of station they work at.</param>
/// <param name="Shifts">Their week.</param>
/// <param name="IsActive">False: they no longer work here.</param>
public sealed record PersonInput(
    string Code,
    int? SeenVersion,
    string Name,
    IReadOnlyList<StationKind> Can,
    IReadOnlyList<Shift> Shifts,
    bool IsActive
);

/// <summary>Adds somebody who works in the shop, or changes what they do and when.</summary>
public sealed class KeepPerson(CommandRunner runner) : IUseCase
{
    /// <summary>What the audit list calls it; nothing was before somebody new.</summary>
    internal const string Changed = "person changed";

    /// <summary>Adds or changes.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, PersonInput input, CancellationToken cancel = default) =>
        runner.RunAsync<PersonInput, Done>(
            nameof(KeepPerson),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, PersonInput input, CancellationToken cancel)
    {
        var person = await work.Context.People.FirstOrDefaultAsync(p => p.Code == input.Code, cancel);
        if (input.SeenVersion is null && person is not null)
            return new Refusal("code-taken", $"{input.Code} is taken already.", "code");
        if (input.SeenVersion is { } seen && person is not null && CommandWork.IfChanged(seen, person.Version, person.Name) is { } changed)
            return changed;
        if (input.SeenVersion is not null && person is null)
            return new Refusal("person-missing", "This person is no longer there.");
        var before = person is null ? "" : Text(person);
        if (person is null)
        {
            if (input.Code.Length is 0 or > 20 || input.Code.Any(c => !char.IsAsciiLetterLower(c) && !char.IsAsciiDigit(c)))
                return new Refusal("code", "The short name has small letters and digits, at most 20, like ada.", "code");
            person = new Person(new PersonId(Guid.CreateVersion7()), input.Code, input.Name, input.Can, input.Shifts);
            work.Context.People.Add(person);
        }
        var done = person.Change(input.Name, input.Can, input.Shifts, input.IsActive);
        if (!done.IsOk)
            return done;
        work.Audit(Changed, person.Code, before, Text(person));
        work.Touch(Topic.Person, person.Id.Value);
        return default(Done);
    }

    /// <summary>Whether somebody works here by what an entry of the audit list says of them.</summary>
    internal static bool Works(string text) => text.Length > 0 && JsonSerializer.Deserialize<Working>(text, JsonForms.Default)!.IsActive;

    private sealed record Working(bool IsActive);

    private static string Text(Person p) =>
        JsonSerializer.Serialize(
            new
            {
                p.Name,
                p.Can,
                p.Shifts,
                p.IsActive,
            },
            JsonForms.Default
        );
}
