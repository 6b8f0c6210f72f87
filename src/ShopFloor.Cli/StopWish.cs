using System.Runtime.InteropServices;

namespace ShopFloor.Cli;

/// <summary>Ctrl+C, or a request of the system to end. The first wish ends the rounds: the plan is that of the rounds that are finished, as if so many
/// had been asked for. The second ends what follows them, too: the best so far is written. A third ends the program at once, with nothing written.</summary>
internal sealed class StopWish : IDisposable
{
    private readonly CancellationTokenSource rounds;
    private readonly CancellationTokenSource all = new();
    private readonly TextWriter errors;
    private readonly PosixSignalRegistration[] heard;
    private int wishes;

    public StopWish(CancellationTokenSource rounds, TextWriter errors)
    {
        (this.rounds, this.errors) = (rounds, errors);
        heard = [PosixSignalRegistration.Create(PosixSignal.SIGINT, Hear), PosixSignalRegistration.Create(PosixSignal.SIGTERM, Hear)];
    }

    /// <summary>Ends the whole search.</summary>
    public CancellationToken All => all.Token;

    private void Hear(PosixSignalContext signal) => signal.Cancel = Wish();

    /// <summary>Takes a wish to stop; false: enough was wished, the program ends.</summary>
    internal bool Wish()
    {
        switch (Interlocked.Increment(ref wishes))
        {
            case 1:
                errors.WriteLine("No more rounds. Once more: the plan as it is now.");
                rounds.Cancel();
                return true;
            case 2:
                errors.WriteLine("The plan as it is now. Once more: nothing is written.");
                all.Cancel();
                return true;
            default:
                return false;
        }
    }

    public void Dispose()
    {
        foreach (var one in heard)
            one.Dispose();
        all.Dispose();
    }
}
