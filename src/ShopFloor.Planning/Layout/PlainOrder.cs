namespace ShopFloor.Planning.Layout;

/// <summary>Orders in which pieces are laid, largest first.</summary>
internal enum PlainOrder
{
    /// <summary>By area.</summary>
    Area,

    /// <summary>By the longer side.</summary>
    LongSide,

    /// <summary>By width.</summary>
    Width,

    /// <summary>By depth.</summary>
    Depth,

    /// <summary>By the sum of both sides.</summary>
    Girth,
}

/// <summary>The number that an order sorts by.</summary>
internal static class PlainOrders
{
    /// <summary>The key of a piece.</summary>
    public static double Key(this PlainOrder order, LayoutTask task, int i) =>
        order switch
        {
            PlainOrder.Area => (double)task.Width[i] * task.Depth[i],
            PlainOrder.LongSide => Math.Max(task.Width[i], task.Depth[i]),
            PlainOrder.Width => task.Width[i],
            PlainOrder.Depth => task.Depth[i],
            _ => (double)task.Width[i] + task.Depth[i],
        };
}
