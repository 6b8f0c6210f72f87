using System.Runtime.InteropServices;

namespace ShopFloor.Cli;

/// <summary>Ctrl+C, or a request of the system to end: the rounds that are finished are enough, and their plan is written as if so many had been asked
/// for. A second wish ends the program at once, with nothing written.</summary>
internal sealed class StopWish : IDisposable
{
    private readonly CancellationTokenSource enough;
    private readonly TextWriter errors;
    private readonly PosixSignalRegistration[] heard;

    public StopWish(CancellationTokenSource enough, TextWriter errors)
    {
        (this.enough, this.errors) = (enough, errors);
        heard = [PosixSignalRegistration.Create(PosixSignal.SIGINT, Hear), PosixSignalRegistration.Create(PosixSignal.SIGTERM, Hear)];
    }

    private void Hear(PosixSignalContext signal)
    {
        if (enough.IsCancellationRequested)
            return;
        signal.Cancel = true;
        errors.WriteLine("Ending with the rounds that are finished. Once more: end at once, nothing is written.");
        enough.Cancel();
    }

    public void Dispose()
    {
        foreach (var one in heard)
            one.Dispose();
    }
}
