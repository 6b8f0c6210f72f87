using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace ShopFloor.Web.Tests.Sending;

/// <summary>A mail server for one test: takes mails by the commands of RFC 5321 and keeps them. It can be told to refuse.</summary>
internal sealed class MailStub : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource stop = new();
    private readonly Task loop;

    public MailStub()
    {
        listener.Start();
        loop = AcceptAsync();
    }

    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>What came in, whole.</summary>
    public ConcurrentQueue<string> Mails { get; } = [];

    /// <summary>Answer to the sender; 250 takes it.</summary>
    public string SenderAnswer { get; set; } = "250 fine";

    /// <summary>Answer to the whole mail; 250 takes it.</summary>
    public string DataAnswer { get; set; } = "250 taken";

    /// <summary>Answer to the recipient; 250 takes it.</summary>
    public string RecipientAnswer { get; set; } = "250 fine";

    /// <summary>Answers nothing to a farewell, and closes the line.</summary>
    public bool HangsUpAtQuit { get; init; }

    public async ValueTask DisposeAsync()
    {
        // The loop is over before the listener is: it may come back from a caller at any moment and listen for the next.
        await stop.CancelAsync();
        await loop;
        listener.Dispose();
        stop.Dispose();
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true)
            {
                using var client = await listener.AcceptTcpClientAsync(stop.Token);
                await TalkAsync(client.GetStream());
            }
        }
        // The test is over, or the caller hung up.
        catch (Exception e) when (e is OperationCanceledException or SocketException or IOException) { }
    }

    private async Task TalkAsync(NetworkStream stream)
    {
        using var reader = new StreamReader(stream, Encoding.UTF8, leaveOpen: true);
        async Task SayAsync(string line) => await stream.WriteAsync(Encoding.ASCII.GetBytes(line + "\r\n"));
        await SayAsync("220 stub");
        while (await reader.ReadLineAsync(stop.Token) is { } line)
        {
            if (line.StartsWith("DATA", StringComparison.Ordinal))
            {
                await SayAsync("354 go on");
                Mails.Enqueue(await MailAsync(reader));
                await SayAsync(DataAnswer);
            }
            else if (HangsUpAtQuit && line.StartsWith("QUIT", StringComparison.Ordinal))
                return;
            else if (line.StartsWith("MAIL", StringComparison.Ordinal))
                await SayAsync(SenderAnswer);
            else if (line.StartsWith("RCPT", StringComparison.Ordinal))
                await SayAsync(RecipientAnswer);
            else
                await SayAsync(line.StartsWith("QUIT", StringComparison.Ordinal) ? "221 bye" : "250 fine");
        }
    }

    private async Task<string> MailAsync(StreamReader reader)
    {
        var mail = new StringBuilder();
        while (await reader.ReadLineAsync(stop.Token) is { } line && line != ".")
            mail.AppendLine(line);
        return mail.ToString();
    }
}
