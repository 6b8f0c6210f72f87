using Microsoft.AspNetCore.WebUtilities;
using ShopFloor.Domain;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Kept papers, the bytes as they were issued: a PDF to look at, an e-invoice to keep.</summary>
public static class InvoiceEndpoint
{
    public static void MapInvoices(this IEndpointRouteBuilder app)
    {
        var papers = app.MapGroup("/office/papers").RequireAuthorization(Policies.Office);
        papers.MapGet(
            "/{id:guid}.pdf",
            (Guid id, InvoiceView view, HttpContext http, CancellationToken cancel) => SendAsync(view, http, id, xml: false, cancel)
        );
        papers.MapGet(
            "/{id:guid}.xml",
            (Guid id, InvoiceView view, HttpContext http, CancellationToken cancel) => SendAsync(view, http, id, xml: true, cancel)
        );
        papers.MapGet("/draft.pdf", DraftAsync);
    }

    /// <summary>Address of the marked paper of what would be issued.</summary>
    public static string Draft(IssueInput input) =>
        QueryHelpers.AddQueryString(
            "office/papers/draft.pdf",
            new Dictionary<string, string?>(StringComparer.Ordinal)
            {
                ["order"] = input.Order.Value.ToString(),
                ["deposit"] = input.Deposit?.ToString(CultureInfo.InvariantCulture),
                ["note"] = input.Note,
                ["tax"] = input.TaxCode,
                ["paid"] = input.PaidBy,
                ["invoice"] = input.IsInvoice ? "true" : null,
            }
        );

    private static async Task<IResult> DraftAsync(
        Guid order,
        decimal? deposit,
        string? note,
        string? tax,
        string? paid,
        bool? invoice,
        InvoiceDraftView view,
        HttpContext http,
        CancellationToken cancel
    )
    {
        var paper = await view.PaperAsync(
            new IssueInput(new OrderId(order), deposit, note ?? "", tax, paid, IsInvoice: invoice == true),
            cancel
        );
        if (!paper.IsOk)
            return Results.Text(string.Join('\n', paper.Refusals.Select(r => r.Text)), statusCode: StatusCodes.Status409Conflict);
        http.Response.Headers.ContentDisposition = "inline; filename=\"draft.pdf\"";
        return Results.Bytes(paper.Value, "application/pdf");
    }

    private static async Task<IResult> SendAsync(InvoiceView view, HttpContext http, Guid id, bool xml, CancellationToken cancel)
    {
        if (await view.PaperAsync(id, xml, cancel) is not { } paper)
            return Results.NotFound();
        if (xml)
            return Results.File(paper.Bytes, "application/xml", paper.Name);
        http.Response.Headers.ContentDisposition = $"inline; filename=\"{paper.Name}\"";
        return Results.Bytes(paper.Bytes, "application/pdf");
    }
}
