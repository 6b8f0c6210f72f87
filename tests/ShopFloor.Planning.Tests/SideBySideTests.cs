namespace ShopFloor.Planning.Tests;

/// <summary>Work that is done side by side, on no more threads than it may have.</summary>
public sealed class SideBySideTests
{
    [Theory]
    [InlineData(5, 1)]
    [InlineData(1, 5)]
    public void Run_OneThreadOrOneWork_StaysWithTheCaller(int count, int threads)
    {
        var at = new List<(int Number, int Thread)>();
        SideBySide.Run(count, threads, i => at.Add((i, Environment.CurrentManagedThreadId)));
        Assert.Equal(Enumerable.Range(0, count), at.Select(a => a.Number));
        Assert.All(at, a => Assert.Equal(Environment.CurrentManagedThreadId, a.Thread));
    }

    [Fact]
    public void Run_TwoThreads_DoesEachOnceAndNeverMoreThanTwoAtOnce()
    {
        var (done, now, most) = (new int[200], 0, 0);
        SideBySide.Run(
            done.Length,
            2,
            i =>
            {
                var here = Interlocked.Increment(ref now);
                if (here > Volatile.Read(ref most))
                    Volatile.Write(ref most, here);
                Interlocked.Increment(ref done[i]);
                Thread.SpinWait(2_000);
                Interlocked.Decrement(ref now);
            }
        );
        Assert.All(done, d => Assert.Equal(1, d));
        Assert.InRange(most, 1, 2);
    }

    [Fact]
    public void Run_None_DoesNothing() => SideBySide.Run(0, 2, _ => Assert.Fail("nothing was asked for"));
}
