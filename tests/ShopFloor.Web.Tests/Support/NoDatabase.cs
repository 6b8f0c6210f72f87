using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;

namespace ShopFloor.Web.Tests.Support;

/// <summary>Has no database, and counts how often it was asked for one.</summary>
internal sealed class NoDatabase : IDbContextFactory<ShopContext>
{
    public Tally Asked { get; } = new();

    public ShopContext CreateDbContext()
    {
        Asked.Note();
        throw new NotSupportedException("There is no database.");
    }
}
