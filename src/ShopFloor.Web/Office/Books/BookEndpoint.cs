using System.IO.Compression;
using System.Text;
using ShopFloor.Documents.Letters;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Books;

/// <summary>The books of a month and the takings of a day as files. What leaves as data is written into the security log.</summary>
public static class BookEndpoint
{
    public static void MapBooks(this IEndpointRouteBuilder app)
    {
        var books = app.MapGroup("/office/books").RequireAuthorization(Policies.Office).ExcludeFromDescription();
        books.MapGet("/{month}.zip", ZipAsync);
        books.MapGet(
            "/{month}/documents.csv",
            (string month, BooksView v, SecurityLog log, HttpContext h) => CsvAsync(month, true, v, log, h)
        );
        books.MapGet(
            "/{month}/payments.csv",
            (string month, BooksView v, SecurityLog log, HttpContext h) => CsvAsync(month, false, v, log, h)
        );
        books.MapGet("/{month}.pdf", SummaryAsync);
        app.MapGet("/office/takings/{day}.pdf", TakingsAsync).RequireAuthorization(Policies.Office).ExcludeFromDescription();
    }

    private static LetterReader Reader => LetterReader.Of(CultureInfo.CurrentUICulture.Name);

    private static async Task<IResult> ZipAsync(string month, BooksView view, SecurityLog log, HttpContext http)
    {
        var (sheet, pdf) = await view.PaperAsync(month, Reader, http.RequestAborted);
        var name = $"books-{Period.Write(sheet.Month)}";
        await NoteAsync(log, http, name);
        using var file = new MemoryStream();
        await using (var zip = await ZipArchive.CreateAsync(file, ZipArchiveMode.Create, leaveOpen: true, null, http.RequestAborted))
        {
            await AddAsync(zip, "documents.csv", Bytes(BookRows.Documents(sheet)), http.RequestAborted);
            await AddAsync(zip, "payments.csv", Bytes(BookRows.Payments(sheet)), http.RequestAborted);
            await AddAsync(zip, "summary.pdf", pdf, http.RequestAborted);
        }
        http.Response.Headers.CacheControl = "no-store";
        return Results.File(file.ToArray(), "application/zip", $"{name}.zip");
    }

    private static async Task<IResult> CsvAsync(string month, bool isDocuments, BooksView view, SecurityLog log, HttpContext http)
    {
        var sheet = await view.LoadAsync(month, http.RequestAborted);
        var name = $"{(isDocuments ? "documents" : "payments")}-{Period.Write(sheet.Month)}.csv";
        await NoteAsync(log, http, name);
        http.Response.Headers.CacheControl = "no-store";
        return Results.File(Bytes(isDocuments ? BookRows.Documents(sheet) : BookRows.Payments(sheet)), "text/csv; charset=utf-8", name);
    }

    private static async Task<IResult> SummaryAsync(string month, BooksView view, HttpContext http)
    {
        var (sheet, pdf) = await view.PaperAsync(month, Reader, http.RequestAborted);
        return Pdf(http, pdf, $"books-{Period.Write(sheet.Month)}.pdf");
    }

    private static async Task<IResult> TakingsAsync(string day, TakingsView view, HttpContext http) =>
        Pdf(http, await view.PaperAsync(day, Reader, http.RequestAborted), "takings.pdf");

    private static IResult Pdf(HttpContext http, byte[] pdf, string name)
    {
        http.Response.Headers.CacheControl = "no-store";
        http.Response.Headers.ContentDisposition = $"inline; filename=\"{name}\"";
        return Results.Bytes(pdf, "application/pdf");
    }

    // A spreadsheet takes a CSV file without a mark for its own old alphabet.
    private static byte[] Bytes(string text) => [.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(text)];

    private static async Task AddAsync(ZipArchive zip, string name, byte[] bytes, CancellationToken cancel)
    {
        await using var entry = await zip.CreateEntry(name).OpenAsync(cancel);
        await entry.WriteAsync(bytes, cancel);
    }

    private static Task NoteAsync(SecurityLog log, HttpContext http, string what) =>
        log.NoteAsync("export", WorkerClaim.IdOf(http.User)?.ToString() ?? "", what, isGood: true, http.RequestAborted);
}
