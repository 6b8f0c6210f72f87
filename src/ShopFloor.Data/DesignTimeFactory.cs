using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace ShopFloor.Data;

/// <summary>For the migrations tool only.</summary>
internal sealed class DesignTimeFactory : IDesignTimeDbContextFactory<ShopContext>
{
    public ShopContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<ShopContext>();
        ShopDatabase.Configure(options, "design-time.db");
        return new ShopContext(options.Options);
    }
}
