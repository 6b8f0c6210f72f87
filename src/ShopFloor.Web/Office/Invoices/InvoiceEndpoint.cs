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
