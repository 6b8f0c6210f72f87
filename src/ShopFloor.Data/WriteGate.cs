namespace ShopFloor.Data;

/// <summary>
/// Lets one writer in at a time. SQLite has one write lock; waiting here in order is fair, waiting there is not. Registered once.
/// </summary>
public sealed class WriteGate : IDisposable
{
    private readonly SemaphoreSlim gate = new(1, 1);

    /// <summary>Waits for the turn; dispose what is returned to let the next one in.</summary>
    public async Task<IDisposable> EnterAsync(CancellationToken cancel)
    {
        await gate.WaitAsync(cancel);
        return new Turn(gate);
    }

    /// <inheritdoc />
    public void Dispose() => gate.Dispose();

    private sealed class Turn(SemaphoreSlim gate) : IDisposable
    {
        private int left;

        public void Dispose()
        {
            if (Interlocked.Exchange(ref left, 1) == 0)
                gate.Release();
        }
    }
}
