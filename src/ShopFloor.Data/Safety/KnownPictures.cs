using Microsoft.EntityFrameworkCore;

namespace ShopFloor.Data.Safety;

/// <summary>The pictures that a database knows.</summary>
public static class KnownPictures
{
    /// <summary>Their ids, as the names of their files begin.</summary>
    /// <param name="database">The database's file.</param>
    public static IReadOnlySet<string> In(string database)
    {
        var options = new DbContextOptionsBuilder<ShopContext>();
        ShopDatabase.Configure(options, database);
        using var context = new ShopContext(options.Options);
        return context
            .Pictures.AsNoTracking()
            .Select(p => p.Id)
            .AsEnumerable()
            .Select(p => $"{p.Value:N}")
            .ToHashSet(StringComparer.Ordinal);
    }
}
