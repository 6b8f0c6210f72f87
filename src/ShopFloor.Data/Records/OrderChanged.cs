using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Data.Records;

/// <summary>When anything of an order itself last changed, kept beside it: the order counts its changes and reads no clock.</summary>
public static class OrderChanged
{
    /// <summary>Name of the column.</summary>
    public const string At = "ChangedAt";

    /// <summary>Notes the instant at every order that is about to be saved with a change.</summary>
    public static void Note(ShopContext context, DateTimeOffset at)
    {
        foreach (var order in context.ChangeTracker.Entries<Order>())
            if (order.State is EntityState.Added or EntityState.Modified)
                order.Property(At).CurrentValue = at;
    }
}
