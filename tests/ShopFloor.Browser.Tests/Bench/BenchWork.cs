using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Browser.Tests.Bench;

/// <summary>The demo workshop's pieces, as the database has them while a page shows them.</summary>
internal static class BenchWork
{
    public static Task<ShopContext> ContextAsync(this Stage stage) =>
        stage.App.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();

    /// <summary>A piece that is here and whose next step is of this kind and can begin.</summary>
    public static async Task<(string Code, int Step)> UpForAsync(this Stage stage, StepKind kind)
    {
        await using var context = await stage.ContextAsync();
        var pieces = await context.Pieces.AsNoTracking().OrderBy(p => p.Code).ToListAsync();
        var piece = pieces.First(p =>
            p.NextAttended is { State: not WorkState.Running } next
            && next.Kind == kind
            && p.State is PieceState.Received or PieceState.InWork
            && p.Items.First(i => i.Number == next.Number).State == WorkState.Ready
        );
        return (piece.Code, piece.NextAttended!.Number);
    }

    /// <summary>The entries that say that a step was finished.</summary>
    public static async Task<IReadOnlyList<JournalEntry>> FinishedAsync(this Stage stage, (string Code, int Step) at)
    {
        await using var context = await stage.ContextAsync();
        var piece = await context.Pieces.Where(p => p.Code == at.Code).Select(p => p.Id).FirstAsync();
        var entries = await context.Journal.AsNoTracking().Where(j => j.Piece == piece).ToListAsync();
        return entries.FindAll(e => e.Read() is StepFinished f && f.Step == at.Step);
    }
}
