using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Demo;

/// <summary>One wish of the invented owner: a piece is not pressed before its customer has looked at the colours.</summary>
internal static class DemoPins
{
    public static async Task<Result<Done>> AddToAsync(CommandWork work, CancellationToken cancel)
    {
        var pieces = await work.Context.Pieces.Where(p => p.State == PieceState.Received).OrderBy(p => p.Code).ToListAsync(cancel);
        var waiting = pieces.FirstOrDefault(p => p.Items.Any(i => i.Kind == StepKind.Press));
        if (waiting is not null)
            work.Context.Pins.Add(
                new PlanPin(Guid.CreateVersion7(), waiting.Id, waiting.Items.First(i => i.Kind == StepKind.Press).Number, work.By)
                {
                    NotBefore = work.Now.AddDays(1),
                }
            );
        return default(Done);
    }
}
