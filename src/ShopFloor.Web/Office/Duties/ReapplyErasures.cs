using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Duties;

/// <summary>
/// Erases again, at the start, who is in the list but not erased in the database: the database is an older one, restored. Before that the
/// list is given whom it lacks: the program ended between the erasure and its note.
/// </summary>
public static partial class ReapplyErasures
{
    public static async Task ReapplyErasuresAsync(this WebApplication app)
    {
        await using var scope = app.Services.CreateAsyncScope();
        var again = await RunAsync(scope.ServiceProvider);
        if (again > 0)
            LogAgain(app.Logger, again);
    }

    /// <summary>Does it.</summary>
    /// <returns>How many were erased again.</returns>
    public static async Task<int> RunAsync(IServiceProvider services)
    {
        var list = services.GetRequiredService<ErasureList>();
        List<Domain.CustomerId> back;
        await using (var context = await services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync())
        {
            var erased = await context.Erasures.Select(e => e.Customer).ToListAsync();
            foreach (var customer in erased.Except(list.Read()))
                list.Add(customer);
            var listed = list.Read();
            back = await context.Customers.Where(c => listed.Contains(c.Id) && c.ErasedAt == null).Select(c => c.Id).ToListAsync();
        }
        var erase = services.GetRequiredService<EraseCustomer>();
        foreach (var customer in back)
        {
            var done = await erase.RunAsync(Asked.BySystem(), new EraseInput(customer));
            if (!done.IsOk)
                throw new InvalidOperationException($"A restored customer could not be erased again: {done.Refusals[0].Text}");
        }
        return back.Count;
    }

    [LoggerMessage(Level = LogLevel.Warning, Message = "The database is an older one: {Count} erased customers were erased again")]
    private static partial void LogAgain(ILogger logger, int count);
}
