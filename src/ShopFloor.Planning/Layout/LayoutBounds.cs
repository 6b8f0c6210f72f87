namespace ShopFloor.Planning.Layout;

/// <summary>Numbers of surfaces that no lay-out can go below.</summary>
public static class LayoutBounds
{
    /// <summary>The least number of equal surfaces for a set of pieces.</summary>
    /// <param name="task">The pieces.</param>
    /// <param name="pieces">Which of them, by position.</param>
    /// <param name="surface">Which surface of the task.</param>
    public static int Fewest(LayoutTask task, IReadOnlyList<int> pieces, int surface)
    {
        var area = pieces.Sum(i => (long)task.Width[i] * task.Depth[i]);
        var room = (long)task.SurfaceWidth[surface] * task.SurfaceDepth[surface];
        return (int)((area + room - 1) / room);
    }
}
