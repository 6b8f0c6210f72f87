using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Plans;

/// <summary>What a pin asks for.</summary>
public enum PinKind
{
    /// <summary>The step starts no earlier than an instant.</summary>
    NotBefore,

    /// <summary>The step starts at an instant.</summary>
    At,

    /// <summary>The step shares its load, session or round with another piece.</summary>
    With,
}

/// <summary>A pin as the owner enters it.</summary>
/// <param name="Piece">Code of the piece.</param>
/// <param name="Step">Its step, from 1.</param>
/// <param name="Kind">What it asks for.</param>
/// <param name="When">The instant, UTC; null for <see cref="PinKind.With"/>.</param>
/// <param name="With">Code of the other piece; null for the other kinds.</param>
public sealed record PinInput(string Piece, int Step, PinKind Kind, DateTimeOffset? When, string? With);

/// <summary>Pins a step of a piece; the next plan keeps it or says why it cannot. A step has one pin: a new one takes the old one's place.</summary>
public sealed class PinPiece(CommandRunner runner) : IUseCase
{
    /// <summary>Pins. Refusals name the field <c>piece</c>, <c>step</c>, <c>when</c> or <c>with</c>.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, PinInput input, CancellationToken cancel = default) =>
        runner.RunAsync<PinInput, Done>(nameof(PinPiece), Allowed.Owner, asked, input, work => DecideAsync(work, input, cancel), cancel);

    private static async Task<Result<Done>> DecideAsync(CommandWork work, PinInput input, CancellationToken cancel)
    {
        var piece = await FindAsync(work.Context, input.Piece, cancel);
        if (piece is null)
            return new Refusal("pin-piece", $"There is no piece {input.Piece}.", "piece");
        if (Open(piece, input.Step) is not { } step)
            return new Refusal("pin-step", "This step is done, runs already, or is none of this piece.", "step");
        var fault =
            input.Kind == PinKind.With ? await WithFaultAsync(work.Context, input, step, piece, cancel) : WhenFault(input, work.Now);
        if (fault is not null)
            return fault;
        await work.Context.Pins.Where(p => p.Piece == piece.Id && p.Step == input.Step).ExecuteDeleteAsync(cancel);
        work.Context.Pins.Add(
            new PlanPin(Guid.CreateVersion7(), piece.Id, input.Step, work.By)
            {
                NotBefore = input.Kind == PinKind.NotBefore ? input.When : null,
                At = input.Kind == PinKind.At ? input.When : null,
                With = input.Kind == PinKind.With ? input.With : null,
            }
        );
        work.Touch(Topic.Piece, piece.Id.Value);
        return default(Done);
    }

    private static Task<Piece?> FindAsync(ShopContext context, string code, CancellationToken cancel) =>
        context.Pieces.AsNoTracking().FirstOrDefaultAsync(p => p.Code == code, cancel);

    /// <summary>A step that is still to come, and not a rest: a rest begins when the step before it ends.</summary>
    internal static WorkItem? Open(Piece piece, int step) =>
        piece.Items.FirstOrDefault(i => i.Number == step && i.State is WorkState.Waiting or WorkState.Ready && !i.Kind.IsRest());

    private static Refusal? WhenFault(PinInput input, DateTimeOffset now) =>
        input.When is null ? new Refusal("pin-when", "Enter the day and the time.", "when")
        : input.When <= now ? new Refusal("pin-past", "This moment has passed already.", "when")
        : null;

    private static async Task<Refusal?> WithFaultAsync(
        ShopContext context,
        PinInput input,
        WorkItem step,
        Piece piece,
        CancellationToken cancel
    )
    {
        if (!(step.Kind.InOven() || step.Kind is StepKind.Press or StepKind.Spray))
            return new Refusal("pin-alone", "Only sprays, cures, dryings and presses are shared with another piece.", "step");
        if (await FindAsync(context, input.With ?? "", cancel) is not { } other)
            return new Refusal("pin-with", $"There is no piece {input.With}.", "with");
        if (other.Id == piece.Id)
            return new Refusal("pin-itself", "A piece cannot be pinned to itself.", "with");
        return other.Items.Any(i => i.Kind == step.Kind && Open(other, i.Number) is not null)
            ? null
            : new Refusal("pin-with-step", $"{other.Code} has no such step to come.", "with");
    }
}

/// <summary>Takes a pin away.</summary>
public sealed class RemovePin(CommandRunner runner) : IUseCase
{
    private sealed record Which(Guid Pin);

    /// <summary>Takes it away; one that is gone already is no fault.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, Guid pin, CancellationToken cancel = default) =>
        runner.RunAsync<Which, Done>(
            nameof(RemovePin),
            Allowed.Owner,
            asked,
            new Which(pin),
            async work =>
            {
                if (await work.Context.Pins.FirstOrDefaultAsync(p => p.Id == pin, cancel) is { } found)
                {
                    work.Context.Pins.Remove(found);
                    work.Touch(Topic.Piece, found.Piece.Value);
                }
                return default(Done);
            },
            cancel
        );
}
