using System.Security.Cryptography;
using System.Text;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Shared.Uploads;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>
/// Keeps the text of a file between its check and its taking in: among the incoming files, for a day, within their size, and only for
/// whoever had it checked. Its mark is made of its content, so that what is taken in is what was checked, whatever was checked meanwhile.
/// </summary>
public sealed class KeptTexts(IncomingFiles files) : IErrand
{
    /// <summary>The text of a file that was sent; refused when there is none, or too much of it.</summary>
    public static async Task<Result<FileText>> OfAsync(IFormFile? sent, int megabytes, CancellationToken cancel = default)
    {
        if (sent is null || sent.Length == 0 || sent.Length > megabytes * 1_000_000L)
            return new Refusal("file", $"Choose a CSV file of at most {megabytes} MB.", "File");
        using var bytes = new MemoryStream();
        await sent.CopyToAsync(bytes, cancel);
        return FileText.Of(bytes.ToArray());
    }

    /// <summary>Keeps a text.</summary>
    /// <returns>Its mark.</returns>
    public async Task<Result<string>> KeepAsync(Guid worker, string text, CancellationToken cancel = default)
    {
        var bytes = Encoding.UTF8.GetBytes(text);
        var mark = Convert.ToHexStringLower(SHA256.HashData(bytes));
        using var source = new MemoryStream(bytes);
        return (await files.TakeAsync(IdOf(worker, mark), source, cancel)).Then(_ => Result<string>.Ok(mark));
    }

    /// <summary>The text with the mark; refused when it is not here, not any more, or another worker's.</summary>
    public async Task<Result<string>> ReadAsync(Guid worker, string mark, CancellationToken cancel = default)
    {
        var found = files.Open(IdOf(worker, mark));
        if (!found.IsOk)
            return new Refusal(
                "file-gone",
                "The checked file is no longer here: it was taken in already, or a day has gone by. Choose it again.",
                "File"
            );
        using var reader = new StreamReader(found.Value, Encoding.UTF8);
        return await reader.ReadToEndAsync(cancel);
    }

    /// <summary>Forgets it; no fault when it is already gone.</summary>
    public void Drop(Guid worker, string mark) => files.Drop(IdOf(worker, mark));

    private static Guid IdOf(Guid worker, string mark) => new(SHA256.HashData(Encoding.UTF8.GetBytes($"{worker:N} {mark}")).AsSpan(0, 16));
}
