using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Who started a load or a session that runs.</summary>
/// <param name="Name">Their name on screens.</param>
/// <param name="Person">Code of the person in the plan; null when the plan knows no such person, e.g. a shared tablet.</param>
public sealed record Starter(string Name, string? Person)
{
    /// <summary>By piece, for all that runs in an oven or under a press, as the journal has it; nothing for what no worker started.</summary>
    public static async Task<IReadOnlyDictionary<PieceId, Starter>> LoadAsync(
        ShopContext context,
        IEnumerable<Piece> pieces,
        CancellationToken cancel
    )
    {
        var heated = pieces.Where(p => IsHeated(p.Current)).ToList();
        var found = new Dictionary<PieceId, Starter>();
        if (heated.Count == 0)
            return found;
        var running = heated.ToDictionary(p => p.Id, p => p.Current!.Number);
        var ids = running.Keys.ToList();
        // A minute more than needed: the two instants may be kept to different fractions of a second.
        var since = heated.Min(p => p.Current!.StartedAt!.Value).AddMinutes(-1);
        var journal = await context
            .Journal.AsNoTracking()
            .Where(j => ids.Contains(j.Piece) && j.At >= since)
            .OrderBy(j => j.Sequence)
            .ToListAsync(cancel);
        var workers = await WorkersAsync(context, cancel);
        foreach (var entry in journal)
            if (
                entry.Read() is StepStarted started
                && started.Step == running[entry.Piece]
                && workers.TryGetValue(entry.By, out var worker)
            )
                found[entry.Piece] = worker;
        return found;
    }

    private static bool IsHeated(WorkItem? item) =>
        item is { State: WorkState.Running, StartedAt: not null } && (item.Kind.InOven() || item.Kind == StepKind.Press);

    // A worker is a person of the plan by the link the owner has set, else by the same name.
    private static async Task<Dictionary<string, Starter>> WorkersAsync(ShopContext context, CancellationToken cancel)
    {
        var people = await context.People.AsNoTracking().Where(p => p.IsActive).OrderBy(p => p.Code).ToListAsync(cancel);
        var workers = await context
            .Users.AsNoTracking()
            .Select(u => new
            {
                u.Id,
                u.DisplayName,
                u.Person,
            })
            .ToListAsync(cancel);
        return workers.ToDictionary(
            w => w.Id.ToString(),
            w => new Starter(
                w.DisplayName,
                (
                    people.Find(p => p.Id == w.Person)
                    ?? people.Find(p => string.Equals(p.Name, w.DisplayName, StringComparison.OrdinalIgnoreCase))
                )?.Code
            )
        );
    }
}
