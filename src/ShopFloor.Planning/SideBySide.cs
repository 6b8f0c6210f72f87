namespace ShopFloor.Planning;

/// <summary>Runs the same work a few times at once on no more threads than it may have. Alone it stays on the caller's thread and begins no other: a
/// thread that has stepped back would hand its priority on to the pool's, which serve screens.</summary>
internal static class SideBySide
{
    /// <summary>Runs the work for 0 to <paramref name="count"/> - 1 and returns when all of it is done.</summary>
    /// <param name="count">How often; none if 0.</param>
    /// <param name="threads">At most so many at once, the caller's own among them; 1 or more.</param>
    /// <param name="work">What is done; it knows its number alone, so the order does not matter.</param>
    public static void Run(int count, int threads, Action<int> work)
    {
        if (count > 1 && threads > 1)
        {
            Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads }, work);
            return;
        }
        for (var i = 0; i < count; i++)
            work(i);
    }
}
