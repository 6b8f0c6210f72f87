namespace ShopFloor.Planning.Layout;

/// <summary>Surfaces before pieces are laid on them, or laid anew.</summary>
internal sealed partial class FillSearch
{
    private FreeSpace Empty(int surface)
    {
        var free = new FreeSpace();
        free.Reset(task.SurfaceWidth[surface], task.SurfaceDepth[surface]);
        var (margin, gap) = (task.Spacing.Margin, task.Spacing.Gap);
        foreach (var o in task.Occupied)
            if (o.Surface == surface)
            {
                // A new piece keeps the gap on both sides of what lies there; its own gap is already part of its extent.
                var (x, y) = (o.X - margin, o.Y - margin);
                free.Take(x, y, x + o.Width + gap, y + o.Depth + gap, 1);
            }
        return free;
    }

    // Takes the pieces of a surface into the pool: all, or, where many lie, often only those that touch a random window.
    private void EmptyOut(int s)
    {
        space[s].CopyFrom(empty[s]);
        if (on[s].Count < ManyPieces || random.Next(2) == 0)
        {
            pool.AddRange(on[s]);
            return;
        }
        int width = task.SurfaceWidth[surfaces[s]],
            depth = task.SurfaceDepth[surfaces[s]];
        var (w, d) = (width / 4 + random.Next(width / 2), depth / 4 + random.Next(depth / 2));
        var (x, y) = (random.Next(width - w + 1), random.Next(depth - d + 1));
        foreach (var i in on[s])
        {
            var p = place[i];
            var (right, high) = p.Turned ? (p.X + task.Depth[i], p.Y + task.Width[i]) : (p.X + task.Width[i], p.Y + task.Depth[i]);
            if (p.X < x + w && x < right && p.Y < y + d && y < high)
            {
                pool.Add(i);
                continue;
            }
            stays[i] = true;
            space[s].Take(p.X, p.Y, right, high, smallest);
        }
    }
}
