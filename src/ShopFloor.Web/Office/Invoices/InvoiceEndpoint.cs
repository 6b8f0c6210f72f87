using ShopFloor.Web.Security;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Downloads of kept papers: the bytes as they were issued.</summary>
public static class InvoiceEndpoint
{
    public static void MapInvoices(this IEndpointRouteBuilder app)
    {
        var papers = app.MapGroup("/office/papers").RequireAuthorization(Policies.Office);
        papers.MapGet("/{id:guid}.pdf", (Guid id, InvoiceView view, CancellationToken cancel) => SendAsync(view, id, xml: false, cancel));
        papers.MapGet("/{id:guid}.xml", (Guid id, InvoiceView view, CancellationToken cancel) => SendAsync(view, id, xml: true, cancel));
    }

    private static async Task<IResult> SendAsync(InvoiceView view, Guid id, bool xml, CancellationToken cancel) =>
        await view.PaperAsync(id, xml, cancel) is { } paper
            ? Results.File(paper.Bytes, xml ? "application/xml" : "application/pdf", paper.Name)
            : Results.NotFound();
}
